from django.apps import AppConfig


class CalibrationConfig(AppConfig):
    name = "training.calibration"
    verbose_name = "Judging rounds"

    def ready(self):
        from . import recalled  # noqa: F401  (registers itself)
