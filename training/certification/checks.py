"""Have a signing key that cannot be used refused before the site serves anybody."""

from django.conf import settings
from django.core.checks import Error, Warning, register
from django.utils.translation import gettext as _

from training.deck.checks import of_setting

from .badge_keys import BadgeError
from .open_badge import public_keys


@register
def certificates_can_be_signed(app_configs, **kwargs):
    """Return an Error for the first key in the settings that cannot be used."""
    try:
        public_keys()
    except BadgeError as error:
        hint = _("Look at CERTIFICATE_KEY and CERTIFICATE_OLD_KEYS.")
        return [Error(str(error), hint=hint, id="certification.E001")]
    return []


@of_setting("CERTIFICATE_KEY")
def certificates_are_signed():
    if not (settings.CERTIFICATE_KEY or settings.CERTIFICATE_KEY_FILE):
        hint = _("Set CERTIFICATE_KEY to what openssl genpkey -algorithm ed25519 prints.")
        yield Warning(_("Certificates are not handed out in signed form."), hint=hint)
