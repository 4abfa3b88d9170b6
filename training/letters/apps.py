from django.apps import AppConfig
from django.utils.translation import gettext_lazy

from training.deck import mailing
from training.work import clock


class LettersConfig(AppConfig):
    name = "training.letters"
    verbose_name = gettext_lazy("Letters")

    def ready(self):
        from . import posting, telling  # noqa: F401  (register themselves)

        clock.every(clock.HOUR, "send_letters", wanted=mailing.has_address)
