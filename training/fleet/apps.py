from django.apps import AppConfig


class FleetConfig(AppConfig):
    name = "training.fleet"
    label = "fleet"

    def ready(self):
        from . import sum_receivers, vessel_receivers  # noqa: F401  (register themselves)
        from .deriving import receivers  # noqa: F401  (registers itself)
        from .tows import lesson  # noqa: F401  (registers itself)
