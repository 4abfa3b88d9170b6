from django.apps import AppConfig


class CertificationConfig(AppConfig):
    name = "training.certification"
    verbose_name = "Certificates and exams"

    def ready(self):
        from . import checks  # noqa: F401  (registers itself)
