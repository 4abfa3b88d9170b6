"""What can be wrong with the settings of the record store."""

from urllib.parse import urlsplit

from django.conf import settings
from django.core.checks import Error
from django.utils.translation import gettext as _

from training.deck.checks import of_setting


@of_setting("XAPI_ENDPOINT")
def record_store_can_be_reached():
    if not settings.XAPI_ENDPOINT:
        if settings.XAPI_USER or settings.XAPI_PASSWORD:
            hint = _("Set XAPI_ENDPOINT as well, or leave XAPI_USER and XAPI_PASSWORD out.")
            yield Error(_("The record store has a login and no address."), hint=hint)
        return
    if urlsplit(settings.XAPI_ENDPOINT).scheme != "https":
        hint = _("Set XAPI_ENDPOINT to an address that begins with https://.")
        yield Error(_("The password of the record store would go out unlocked."), hint=hint)
    if not (settings.XAPI_USER and settings.XAPI_PASSWORD):
        hint = _("Set XAPI_USER and XAPI_PASSWORD.")
        yield Error(_("The record store lets nobody in without a login."), hint=hint)
