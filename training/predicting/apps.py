from django.apps import AppConfig
from django.utils.translation import gettext_lazy


class PredictingConfig(AppConfig):
    name = "training.predicting"
    label = "predicting"
    verbose_name = gettext_lazy("Predicted verdicts")

    def ready(self):
        from . import remembering  # noqa: F401  (its source registers itself)
