from django.apps import AppConfig


class InterchangeConfig(AppConfig):
    name = "training.interchange"
    label = "interchange"
