from django.apps import AppConfig
from django.utils.translation import gettext_lazy

from training.deck import mailing
from training.people.account import Spot, add_part
from training.work import clock


class RecallConfig(AppConfig):
    name = "training.recall"
    label = "recall"
    verbose_name = gettext_lazy("Short practice")

    def ready(self):
        from . import receivers  # noqa: F401  (registers itself)

        clock.every(clock.DAY, "remind_practice", wanted=mailing.has_address)
        add_part(Spot.BELOW_NAME, "recall/mail_part.html")
