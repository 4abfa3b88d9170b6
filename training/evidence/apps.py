from django.apps import AppConfig


class EvidenceConfig(AppConfig):
    name = "training.evidence"
    verbose_name = "Paired tows"

    def ready(self):
        from . import lesson  # noqa: F401  (registers itself)
