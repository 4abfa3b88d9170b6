from django.apps import AppConfig
from django.utils.translation import gettext_lazy


class PeopleConfig(AppConfig):
    name = "training.people"
    verbose_name = gettext_lazy("People")

    def ready(self):
        from . import guessing, mail_server, staying, telling  # noqa: F401  (register themselves)
        from .factors import checks  # noqa: F401
