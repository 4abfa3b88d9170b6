from django.apps import AppConfig
from django.utils.translation import gettext_lazy


class CourseConfig(AppConfig):
    name = "training.course"
    verbose_name = gettext_lazy("The course")

    def ready(self):
        from . import along  # noqa: F401  (registers itself)
