from django.apps import AppConfig
from django.utils.translation import gettext_lazy


class AccountsConfig(AppConfig):
    name = "training.accounts"
    verbose_name = gettext_lazy("Accounts")
