from django.apps import AppConfig
from django.utils import translation

from rigs.words import say


class DeckConfig(AppConfig):
    name = "training.deck"
    verbose_name = "What the apps share"

    def ready(self):
        say.speak_by(translation)
