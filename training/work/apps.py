from django.apps import AppConfig
from django.utils.translation import gettext_lazy

from . import clock


class WorkConfig(AppConfig):
    name = "training.work"
    verbose_name = gettext_lazy("Long work")

    def ready(self):
        from . import daily, receivers, well  # noqa: F401  (register themselves)

        clock.every(clock.DAY, "clear_work")
        clock.every(clock.DAY, "clearsessions")
