from django.apps import AppConfig


class CertificationConfig(AppConfig):
    name = "training.certification"
    verbose_name = "Certificates and exams"

    def ready(self):
        from . import checks, recalled  # noqa: F401  (register themselves)
        from .fair import receivers  # noqa: F401  (likewise)
