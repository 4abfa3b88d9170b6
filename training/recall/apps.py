from django.apps import AppConfig


class RecallConfig(AppConfig):
    name = "training.recall"
    label = "recall"
    verbose_name = "Short practice"

    def ready(self):
        from . import receivers  # noqa: F401  (registers itself)
