"""What is wrong with the settings, where readiness is asked for."""

from django.conf import settings
from django.core.checks import WARNING
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from . import readiness
from .checks import wrong_settings


@readiness.check("settings", gettext_lazy("Settings"))
def settings_are_right():
    """Return in a sentence which settings are wrong for a site in use."""
    if settings.LOCAL:
        return readiness.Unknown(_("This is no site in use, so its settings were not looked at."))
    found = [message for message in wrong_settings() if message.level >= WARNING]
    names = sorted({message.id.rpartition(".")[2] for message in found})
    if not names:
        return readiness.Well(_("No setting is wrong or missing."))
    return _("Wrong or missing settings: {names}. Run manage.py check --deploy.").format(
        names=", ".join(names)
    )
