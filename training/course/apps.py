from django.apps import AppConfig


class CourseConfig(AppConfig):
    name = "training.course"
    verbose_name = "The course"
