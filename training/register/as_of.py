"""
The register as it was at the end of a day, counted from what it said then.

What happened up to that day counts, whenever it was put in; what was corrected since
counts as corrected. Harbor, length and whether a vessel still fished are those of the day.
"""

from collections import defaultdict
from datetime import date, datetime, time, timedelta
from typing import NamedTuple

from django.utils import timezone

from training.people import sight

from .conversion import Conversion, Way, followed_ways
from .folding import Happening, Standing, fold, standing_of
from .models import AdoptionEvent, VesselDetails
from .sizes import size_of
from .stages import Stage
from .uptake import EVENT
from .uptake_sums import ConvertedShare


class VesselThen(NamedTuple):
    """A vessel as it was: its Standing comes of what had happened by then; named as today."""

    pk: int
    name: str
    harbor: str
    size: str
    is_fishing: bool
    is_demo: bool
    standing: Standing

    @property
    def is_converted(self):
        return self.standing.stage == Stage.CONVERTED

    def came(self, first, last):
        """Return whether it came to fish without a sweep from ``first`` to ``last`` day."""
        return any(
            move.entered == Stage.CONVERTED and first <= move.day <= last
            for move in self.standing.moves
        )


def end_of(day: date):
    """Return the moment at which ``day`` is over, in the site's time zone."""
    return timezone.make_aware(datetime.combine(day + timedelta(days=1), time()))


def fleet(user, day: date):
    """Return the VesselThen of each vessel on the register that was ``user``'s to look after."""
    details = sight.rows(VesselDetails.objects.at(end_of(day)), user)
    happened = defaultdict(list)
    events = AdoptionEvent.objects.filter(vessel__in=details.order_by().values("vessel"))
    for vessel, *told in events.order_by().values_list(*EVENT):
        happened[vessel].append(Happening(*told))
    rows = details.order_by("vessel__name", "vessel").values_list(
        "vessel", "vessel__name", "harbor", "length", "is_fishing", "vessel__is_demo"
    )
    return [
        VesselThen(
            vessel,
            name,
            harbor,
            size_of(length).key,
            fishing,
            demo,
            _standing(happened[vessel], day),
        )
        for vessel, name, harbor, length, fishing, demo in rows
    ]


def _standing(events, day):
    # Corrected first: what was moved to a later day had not happened by this one.
    return fold(each for each in standing_of(events) if each.day <= day)


def counts(vessels):
    """Return a ConvertedShare for each harbor and size of the ``vessels`` that still fished."""
    found = defaultdict(lambda: [0, 0])
    for each in vessels:
        if each.is_fishing:
            cell = found[each.harbor, each.size]
            cell[0] += 1
            cell[1] += each.is_converted
    return [ConvertedShare(*key, *numbers) for key, numbers in sorted(found.items())]


def conversion(vessels, day) -> Conversion:
    """Return the Conversion of ``vessels``, each followed until ``day`` at most."""
    return followed_ways(
        (
            Way(
                each.harbor,
                each.size,
                each.is_fishing,
                each.standing.first_contact,
                each.standing.converted,
                each.standing.last_event,
            )
            for each in vessels
            if each.standing.first_contact
        ),
        day,
    )
