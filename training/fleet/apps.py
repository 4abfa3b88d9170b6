from django.apps import AppConfig


class FleetConfig(AppConfig):
    name = "training.fleet"
    label = "fleet"
