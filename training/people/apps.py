from django.apps import AppConfig


class PeopleConfig(AppConfig):
    name = "training.people"
    verbose_name = "People"
