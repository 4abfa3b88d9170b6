from django.apps import AppConfig
from django.utils.translation import gettext_lazy

from training.people.account import Spot, add_part


class RecallConfig(AppConfig):
    name = "training.recall"
    label = "recall"
    verbose_name = gettext_lazy("Short practice")

    def ready(self):
        from . import receivers  # noqa: F401  (registers itself)

        add_part(Spot.BELOW_NAME, "recall/mail_part.html")
