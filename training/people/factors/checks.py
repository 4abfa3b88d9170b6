"""What can be wrong with the setting of codes from phones."""

from django.conf import settings
from django.core.checks import Warning
from django.utils.translation import gettext as _

from training.deck.checks import of_setting


@of_setting("STAFF_FACTOR")
def staff_need_a_code():
    if not settings.STAFF_FACTOR:
        words = _("STAFF_FACTOR is 0: anyone who learns a password of the staff can do all.")
        hint = _("Leave STAFF_FACTOR out, and staff are led to set up codes as they sign in.")
        yield Warning(words, hint=hint)
