"""Have a signing key that cannot be used refused before the site serves anybody."""

from django.core.checks import Error, register
from django.utils.translation import gettext as _

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
