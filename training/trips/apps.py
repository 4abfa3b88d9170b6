from django.apps import AppConfig
from django.utils.translation import gettext_lazy


class TripsConfig(AppConfig):
    name = "training.trips"
    verbose_name = gettext_lazy("Trips")

    def ready(self):
        from . import along  # noqa: F401  (registers itself)
