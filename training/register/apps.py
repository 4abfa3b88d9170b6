from django.apps import AppConfig


class RegisterConfig(AppConfig):
    name = "training.register"
    verbose_name = "Vessels"

    def ready(self):
        from . import receivers  # noqa: F401  (registers itself)
        from .deriving import receivers as deriving  # noqa: F401  (likewise)
