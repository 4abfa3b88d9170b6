from django.apps import AppConfig


class AccountsConfig(AppConfig):
    name = "training.accounts"
    label = "accounts"
    verbose_name = "People"
