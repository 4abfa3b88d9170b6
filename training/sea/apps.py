from django.apps import AppConfig
from django.utils.translation import gettext_lazy


class SeaConfig(AppConfig):
    name = "training.sea"
    verbose_name = gettext_lazy("At sea")

    def ready(self):
        from . import along  # noqa: F401  (registers itself)
