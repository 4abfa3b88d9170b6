from django.apps import AppConfig


class DeskConfig(AppConfig):
    name = "training.desk"
    verbose_name = "Staff"

    def ready(self):
        from . import receivers  # noqa: F401  (registers itself)
