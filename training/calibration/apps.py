from django.apps import AppConfig
from django.utils.translation import gettext_lazy


class CalibrationConfig(AppConfig):
    name = "training.calibration"
    verbose_name = gettext_lazy("Judging rounds")

    def ready(self):
        from . import along, recalled  # noqa: F401  (register themselves)
