from django.apps import AppConfig


class LessonsConfig(AppConfig):
    name = "training.lessons"
    label = "lessons"
    verbose_name = "Lessons"
