from django.apps import AppConfig
from django.utils.translation import gettext_lazy


class DeskConfig(AppConfig):
    name = "training.desk"
    verbose_name = gettext_lazy("Staff")

    def ready(self):
        from . import receivers  # noqa: F401  (registers itself)
        from .calls import telling  # noqa: F401  (registers itself)
