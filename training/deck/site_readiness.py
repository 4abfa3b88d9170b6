"""What is wrong with the settings, where readiness is asked for."""

from django.conf import settings
from django.core.checks import WARNING
from django.utils.translation import gettext as _

from . import readiness
from .checks import wrong_settings


@readiness.check("settings")
def settings_are_right():
    """Return the names of settings that are wrong for a site in use; None if all are right."""
    if settings.LOCAL:
        return None
    found = [message for message in wrong_settings() if message.level >= WARNING]
    names = sorted({message.id.rpartition(".")[2] for message in found})
    if not names:
        return None
    return _("Wrong or missing settings: {names}. Run manage.py check --deploy.").format(
        names=", ".join(names)
    )
