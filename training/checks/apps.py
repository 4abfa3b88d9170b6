from django.apps import AppConfig
from django.utils.translation import gettext_lazy


class ChecksConfig(AppConfig):
    name = "training.checks"
    verbose_name = gettext_lazy("Check sheets")

    def ready(self):
        from . import along, telling  # noqa: F401  (register themselves)
