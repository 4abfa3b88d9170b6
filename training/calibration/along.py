"""What of an officer's rounds is taken along to where there is no signal."""

from django.urls import reverse
from django.utils.translation import gettext as _

from training.deck import along
from training.people import sight

from . import turns
from .models import Turn


@along.part
def rounds(user, today):
    """Yield each round that an officer still judges, with all its rigs; no result is in them."""
    if user.is_officer:
        yield along.Part(along.What.START, _("Judging rounds"), reverse("calibration:rounds"))
    for turn in sight.own(Turn.objects.select_related("round"), user):
        if turns.is_open(turn):
            places = range(1, turn.round.count + 1)
            rigs = (reverse("calibration:rig", args=[turn.pk, place]) for place in places)
            address = reverse("calibration:turn", args=[turn.pk])
            yield along.Part(along.What.ROUND, turn.round.title, address, tuple(rigs))
