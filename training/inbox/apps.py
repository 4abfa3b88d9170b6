from django.apps import AppConfig
from django.utils.translation import gettext_lazy


class InboxConfig(AppConfig):
    name = "training.inbox"
    verbose_name = gettext_lazy("What phones send later")
