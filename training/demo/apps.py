from django.apps import AppConfig


class DemoConfig(AppConfig):
    name = "training.demo"
    verbose_name = "Demo data"
