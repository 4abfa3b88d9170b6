from django.apps import AppConfig
from django.utils import translation
from django.utils.translation import gettext_lazy

from rigs.words import say


class DeckConfig(AppConfig):
    name = "training.deck"
    verbose_name = gettext_lazy("What the apps share")

    def ready(self):
        from . import site_checks, site_readiness  # noqa: F401  (register themselves)

        say.speak_by(translation)
