from django.apps import AppConfig


class CertificationConfig(AppConfig):
    name = "training.certification"
    verbose_name = "certification"
