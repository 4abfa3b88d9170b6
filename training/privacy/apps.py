from django.apps import AppConfig
from django.utils.translation import gettext_lazy

from training.people.account import Spot, add_part
from training.work import clock


class PrivacyConfig(AppConfig):
    name = "training.privacy"
    label = "privacy"
    verbose_name = gettext_lazy("People's own data")

    def ready(self):
        from . import leaving  # noqa: F401  (registers itself)

        clock.every(clock.DAY, "forget_expired")
        add_part(Spot.ABOVE_PASSWORD, "privacy/data_part.html")
