from django.apps import AppConfig
from django.utils.translation import gettext_lazy


class LessonsConfig(AppConfig):
    name = "training.lessons"
    label = "lessons"
    verbose_name = gettext_lazy("Lessons")

    def ready(self):
        from . import telling  # noqa: F401  (registers itself)
