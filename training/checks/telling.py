"""What check sheets have to tell of the officer who turned them in."""

from django.urls import reverse
from django.utils.translation import gettext as _

from training.deck import story
from training.people import sight

from .models import CheckSheet


def counts(sheet):
    """Return in words what ``sheet`` found: never without what was not measured."""
    return _("Outside: {outside}. Inside: {within}. Not measured: {not_measured}.").format(
        outside=sheet.outside, within=sheet.within, not_measured=sheet.not_measured
    )


def pictures(sheet):
    """Return (words, address) of the photos of ``sheet``, which are best fetched beforehand."""
    return tuple(
        (
            _("Photo {number} of {sheet}").format(number=number, sheet=sheet),
            reverse("checks:check_photo", args=[photo.key]),
        )
        for number, photo in enumerate(sheet.shown_photos, 1)
    )


@story.PERSON.teller
def sheets(person, user):
    """Tell the check sheets that ``person`` turned in."""
    found = sight.rows(CheckSheet.objects.finished().filter(officer=person), user)
    for sheet in found.prefetch_related("photos"):
        yield story.Telling(
            sheet.day,
            story.Kind.SHEET,
            _("Checked the rig of {vessel}. {counts}").format(
                vessel=sheet.vessel_name, counts=counts(sheet)
            ),
            sheet.get_absolute_url(),
            pictures=pictures(sheet),
        )
