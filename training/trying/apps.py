from django.apps import AppConfig
from django.utils.translation import gettext_lazy

from training.people.account import Spot, add_part


class TryingConfig(AppConfig):
    name = "training.trying"
    label = "trying"
    verbose_name = gettext_lazy("Trying without an account")

    def ready(self):
        from . import bringing  # noqa: F401  (registers itself)

        add_part(Spot.ABOVE_SIGN_UP, "trying/along.html")
