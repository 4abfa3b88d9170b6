from django.apps import AppConfig
from django.utils.translation import gettext_lazy


class HomeConfig(AppConfig):
    name = "training.home"
    verbose_name = gettext_lazy("The first page")
