from django.apps import AppConfig
from django.utils.translation import gettext_lazy


class LettersConfig(AppConfig):
    name = "training.letters"
    verbose_name = gettext_lazy("Letters")

    def ready(self):
        from . import telling  # noqa: F401  (registers itself)
