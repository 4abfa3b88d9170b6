from django.apps import AppConfig
from django.utils.translation import gettext_lazy


class CertificationConfig(AppConfig):
    name = "training.certification"
    verbose_name = gettext_lazy("Certificates and exams")

    def ready(self):
        from . import checks, recalled, telling  # noqa: F401  (register themselves)
        from .fair import receivers  # noqa: F401  (likewise)
