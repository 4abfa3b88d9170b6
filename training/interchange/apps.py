from django.apps import AppConfig
from django.conf import settings

from training.work import clock


class InterchangeConfig(AppConfig):
    name = "training.interchange"
    label = "interchange"

    def ready(self):
        from . import checks  # noqa: F401  (registers itself)

        clock.every(5 * clock.MINUTE, "xapi_push", wanted=_has_store)


def _has_store():
    """Return whether a record store is set, and how this site is called there."""
    return bool(settings.XAPI_ENDPOINT and settings.SITE_ADDRESS)
