from django.apps import AppConfig


class PredictingConfig(AppConfig):
    name = "training.predicting"
    label = "predicting"
    verbose_name = "Predicted verdicts"

    def ready(self):
        from . import remembering  # noqa: F401  (its source registers itself)
