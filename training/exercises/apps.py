from django.apps import AppConfig
from django.utils.translation import gettext_lazy


class ExercisesConfig(AppConfig):
    name = "training.exercises"
    label = "exercises"
    verbose_name = gettext_lazy("Exercises")

    def ready(self):
        from . import along, checks  # noqa: F401  (they register themselves)
