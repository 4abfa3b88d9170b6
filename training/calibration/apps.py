from django.apps import AppConfig


class CalibrationConfig(AppConfig):
    name = "training.calibration"
    verbose_name = "Judging rounds"
