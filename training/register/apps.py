from django.apps import AppConfig
from django.utils.translation import gettext_lazy

from training.people.account import Spot, add_part
from training.work import clock


class RegisterConfig(AppConfig):
    name = "training.register"
    verbose_name = gettext_lazy("Vessels")

    def ready(self):
        from . import (  # noqa: F401  (register themselves)
            belonging,
            known_sheets,
            known_vessels,
            receivers,
            telling,  # noqa: F401  (likewise)
        )
        from .deriving import receivers as deriving  # noqa: F401  (likewise)
        from .table import looking, undoing  # noqa: F401  (likewise)

        clock.every(clock.DAY, "derive_stages")
        add_part(Spot.ABOVE_NAME, "register/own_part.html")
