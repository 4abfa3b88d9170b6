from django.apps import AppConfig


class PrivacyConfig(AppConfig):
    name = "training.privacy"
    label = "privacy"
