from django.apps import AppConfig

from training.people.account import Spot, add_part


class PrivacyConfig(AppConfig):
    name = "training.privacy"
    label = "privacy"
    verbose_name = "People's own data"

    def ready(self):
        add_part(Spot.ABOVE_PASSWORD, "privacy/data_part.html")
