"""What of the check sheets is taken along to where there is no signal."""

from django.urls import reverse
from django.utils.translation import gettext as _

from training.deck import along


@along.part
def sheets(user, today):
    """Yield the page on which an officer fills in sheets, and the list of those on the site."""
    if not (user.is_officer or user.is_staff):
        return
    yield along.Part(
        along.What.SHEET, _("Check sheets on this phone"), reverse("checks:check_phone")
    )
    if not user.is_staff:
        # That of staff names the vessels and officers of others.
        yield along.Part(along.What.START, _("Check sheets on the site"), reverse("checks:checks"))
