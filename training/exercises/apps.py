from django.apps import AppConfig


class ExercisesConfig(AppConfig):
    name = "training.exercises"
    label = "exercises"
    verbose_name = "Exercises"
