from django.apps import AppConfig


class ExercisesConfig(AppConfig):
    name = "training.exercises"
    label = "exercises"
    verbose_name = "Exercises"

    def ready(self):
        from . import checks  # noqa: F401  (registers itself)
