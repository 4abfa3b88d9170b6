from django.apps import AppConfig
from django.utils.translation import gettext_lazy


class NetsConfig(AppConfig):
    name = "training.nets"
    verbose_name = gettext_lazy("People's own nets")

    def ready(self):
        from . import along, card, telling  # noqa: F401  (register themselves)
