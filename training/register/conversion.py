"""
How long it takes from first contact to fishing without a sweep.

A vessel that converted and went back later counts as converted on the day it first did:
the question is how long it took to try, not whether it lasted. One on the way counts for
as long as it was followed: until today, or, if it no longer fishes, until the last that
was heard of it, since nobody knows on what day it left, and a vessel that is gone must
not count as one that is still hesitating. A vessel that was met fishing without a sweep
already had no way to go: it is left out, and told apart.
"""

from datetime import date
from typing import NamedTuple

from rigs.statistics.survival import kaplan_meier
from training.deck.plain import MONTH
from training.people import sight

from .models import VesselState
from .sizes import size_of


class Followed(NamedTuple):
    """A vessel followed for so many ``days``, and whether it ``converted`` at their end."""

    harbor: str
    size: str
    days: int
    converted: bool


class Way(NamedTuple):
    """What is known of a vessel that was contacted: days, ``converted`` None for not yet."""

    harbor: str
    size: str
    is_fishing: bool
    first_contact: date
    converted: date | None
    last_event: date


class Conversion(NamedTuple):
    """The vessels Followed, and how many were met fishing without a sweep already."""

    followed: list
    met_converted: int


def conversion(user, today: date, harbor="", size=""):
    """Return the Conversion of the vessels that ``user`` looks after; one query."""
    states = VesselState.objects.filter(first_contact__lte=today)
    states = sight.rows(states, user)
    if harbor:
        states = states.filter(vessel__harbor=harbor)
    rows = states.order_by().values_list(
        "vessel__harbor",
        "vessel__length",
        "vessel__is_fishing",
        "first_contact",
        "converted",
        "last_event",
    )
    ways = (Way(harbor, size_of(length).key, *told) for harbor, length, *told in rows)
    return followed_ways((way for way in ways if size in ("", way.size)), today)


def followed_ways(ways, today: date):
    """Return the Conversion of ``ways``, each a Way, followed until ``today`` at most."""
    found, met = [], 0
    for harbor, size, fishing, first, converted, last in ways:
        has_converted = converted is not None and converted <= today
        if has_converted and converted == first:
            met += 1
            continue
        end = converted if has_converted else today if fishing else min(last, today)
        found.append(Followed(harbor, size, (end - first).days, has_converted))
    return Conversion(found, met)


def curve_of(followed):
    """Return the survival.Curve of the Followed in days, None of none."""
    if not followed:
        return None
    return kaplan_meier([each.days for each in followed], [each.converted for each in followed])


def still_followed(followed, days):
    """Return how many of the Followed had not converted nor been lost before ``days``."""
    return sum(each.days >= days for each in followed)


def groups(followed, field):
    """Return the Followed by ``field``, harbor or size, as dict of lists, the largest first."""
    found = {}
    for each in followed:
        found.setdefault(getattr(each, field), []).append(each)
    return dict(sorted(found.items(), key=lambda item: (-len(item[1]), item[0])))


def in_months(days):
    """Return days as months, None for None."""
    return None if days is None else days / MONTH
