from django.apps import AppConfig
from django.utils.translation import gettext_lazy


class OfficeConfig(AppConfig):
    name = "training.office"
    label = "office"
    verbose_name = gettext_lazy("Running the site")

    def ready(self):
        from . import checks, looks  # noqa: F401  (register themselves)
