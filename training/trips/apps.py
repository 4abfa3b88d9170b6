from django.apps import AppConfig


class TripsConfig(AppConfig):
    name = "training.trips"
    verbose_name = "Trips"
