from django.apps import AppConfig


class DeckConfig(AppConfig):
    name = "training.deck"
    verbose_name = "What the apps share"
