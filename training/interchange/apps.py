from django.apps import AppConfig


class InterchangeConfig(AppConfig):
    name = "training.interchange"
    label = "interchange"

    def ready(self):
        from . import checks  # noqa: F401  (registers itself)
