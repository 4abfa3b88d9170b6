from django.apps import AppConfig
from django.utils.translation import gettext_lazy


class ExercisesConfig(AppConfig):
    name = "training.exercises"
    label = "exercises"
    verbose_name = gettext_lazy("Exercises")

    def ready(self):
        from . import checks  # noqa: F401  (registers itself)
