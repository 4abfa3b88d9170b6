from django.apps import AppConfig
from django.utils.translation import gettext_lazy


class CourseConfig(AppConfig):
    name = "training.course"
    verbose_name = gettext_lazy("The course")
