"""What paired tows have to tell of whoever made them, and of the vessel."""

from django.urls import reverse
from django.utils.translation import gettext as _

from training.deck import story
from training.people import sight

from .models import PairedTows


@story.PERSON.teller
def pairs_of_person(person, user):
    """Tell the paired tows of ``person`` that staff may see."""
    found = sight.rows(PairedTows.objects.filter(owner=person, deleted=None), user)
    for pair in found.select_related("vessel"):
        text = (
            _("Made paired tows, with and without the sweep, on {vessel}.").format(
                vessel=pair.vessel.name
            )
            if pair.vessel
            else _("Made paired tows, with and without the sweep.")
        )
        yield story.Telling(pair.day, story.Kind.NET, text, note=pair.note)


@story.VESSEL.teller
def pairs_of_vessel(vessel, user):
    """Tell the paired tows made on ``vessel`` that staff may see."""
    found = sight.rows(PairedTows.objects.filter(vessel=vessel, deleted=None), user)
    for pair in found.select_related("owner"):
        text = _("{name} made paired tows, with and without the sweep.").format(
            name=pair.owner.name
        )
        link = "" if pair.owner.is_staff else reverse("desk:trainee", args=[pair.owner_id])
        yield story.Telling(pair.day, story.Kind.NET, text, link, note=pair.note)
