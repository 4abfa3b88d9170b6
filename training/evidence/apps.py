from django.apps import AppConfig
from django.utils.translation import gettext_lazy


class EvidenceConfig(AppConfig):
    name = "training.evidence"
    verbose_name = gettext_lazy("Paired tows")

    def ready(self):
        from . import along, lesson, telling  # noqa: F401  (register themselves)
