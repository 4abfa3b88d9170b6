from django.apps import AppConfig
from django.utils.translation import gettext_lazy


class SeaConfig(AppConfig):
    name = "training.sea"
    verbose_name = gettext_lazy("At sea")
