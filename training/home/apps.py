from django.apps import AppConfig
from django.utils.translation import gettext_lazy


class HomeConfig(AppConfig):
    name = "training.home"
    verbose_name = gettext_lazy("The first page")

    def ready(self):
        from . import along  # noqa: F401  (registers itself)
