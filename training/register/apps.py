from django.apps import AppConfig
from django.utils.translation import gettext_lazy

from training.people.account import Spot, add_part


class RegisterConfig(AppConfig):
    name = "training.register"
    verbose_name = gettext_lazy("Vessels")

    def ready(self):
        from . import belonging, known_vessels, receivers  # noqa: F401  (register themselves)
        from .deriving import receivers as deriving  # noqa: F401  (likewise)

        add_part(Spot.ABOVE_NAME, "register/own_part.html")
