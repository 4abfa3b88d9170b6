from django.apps import AppConfig


class FleetConfig(AppConfig):
    name = "training.fleet"
    label = "fleet"

    def ready(self):
        from . import vessel_receivers  # noqa: F401  (registers itself)
