from django.apps import AppConfig


class ChecksConfig(AppConfig):
    name = "training.checks"
    verbose_name = "Check sheets"
