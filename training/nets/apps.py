from django.apps import AppConfig


class NetsConfig(AppConfig):
    name = "training.nets"
    verbose_name = "People's own nets"
