"""
The fleet's paired tows read together, as far as their owners let them be.

Only pairs of people who chose to be counted in sums or to be shown go in, and the sums
are the same for whoever looks: of the whole fleet, never of a part of it, so that no two
of them laid side by side tell on those between. A group of species has sums only when
there are enough pairs and, besides any one owner or vessel, SMALLEST others: whoever is
among them learns nothing of the rest by taking out his own. And since staff see some
pairs one by one, the others must be none or at least SMALLEST owners and vessels; fewer
are left out.

All this is counted over pairs in which either tow caught something of the group. Others say
nothing of it and go into nothing.
"""

from datetime import date
from functools import cache, lru_cache
from typing import NamedTuple

from django.db.models import Exists, OuterRef

from rigs.statistics.paired import Comparison, Pair, compare
from rigs.statistics.several import holm
from training.deck.suppression import SMALLEST
from training.people.sharing import Level, What, sharers

from .models import PairedCatch
from .species import BY_KEY, SPECIES


class Catch(NamedTuple):
    """
    One group's catch in one pair, in kg; ``pair`` is the pair's number.

    ``boat`` tells vessels apart: one that is not on the register stands for its owner.
    ``is_listed`` says whether the owner lets staff see it by itself.
    """

    group: str
    without_sweep: float
    with_sweep: float
    pair: int
    boat: tuple
    owner: int
    day: date
    is_listed: bool
    is_demo: bool

    @property
    def is_telling(self):
        """Whether either tow caught some."""
        return self.without_sweep > 0 or self.with_sweep > 0


class Evidence(NamedTuple):
    """
    What the paired tows say: a Comparison for each group of which there is enough.

    ``few`` names the groups of which there is something, but not enough. ``pairs``,
    ``vessels``, ``first`` and ``last`` day are of all pairs that went in; ``counted`` are the
    numbers of those that went into each group.
    """

    groups: dict[str, Comparison]
    few: tuple
    pairs: int
    vessels: int
    first: date | None
    last: date | None
    is_demo: bool
    counted: dict[str, frozenset]

    @property
    def enough(self):
        """Whether there is anything to show."""
        return bool(self.groups)

    @property
    def tests(self):
        """How many groups there is a test of: the tries that chance has."""
        return sum(found.p is not None for found in self.groups.values())

    @property
    def adjusted(self):
        """The p of each group with the others beside it counted in; see ``holm``."""
        chances = holm([found.p for found in self.groups.values()])
        return dict(zip(self.groups, chances, strict=True))


@cache
def _shared():
    """Return the queryset, put together once and asked anew by each ``all``."""
    rows = PairedCatch.objects.filter(
        pair__deleted=None,
        group__in=BY_KEY,
        pair__owner__in=sharers(What.CATCHES, [Level.SUMS, Level.STAFF]),
    )
    listed = sharers(What.CATCHES, [Level.STAFF]).filter(pk=OuterRef("pair__owner"))
    return rows.order_by("pk").values_list(
        "group",
        "without_sweep",
        "with_sweep",
        "pair",
        "pair__vessel",
        "pair__owner",
        "pair__day",
        Exists(listed),
        "pair__is_demo",
    )


def shared_catches():
    """Return the Catches that their owners let go into sums; one query."""
    return [
        Catch(*row[:4], ("vessel", row[4]) if row[4] else ("owner", row[5]), *row[5:])
        for row in _shared().all()
    ]


def _many(catches, least):
    """Return whether ``catches`` come from at least so many owners and vessels."""
    return min(len({each.owner for each in catches}), len({each.boat for each in catches})) >= least


def usable(catches):
    """Return those of one group's ``catches`` that may go into its sums, none if too few."""
    catches = [each for each in catches if each.is_telling]
    unlisted = [each for each in catches if not each.is_listed]
    if unlisted and not _many(unlisted, SMALLEST):
        catches = [each for each in catches if each.is_listed]
    return catches if _many(catches, SMALLEST + 1) else []


@lru_cache(maxsize=64)
def _compared(pairs):
    """Return the Comparison of a tuple of Pairs; kept, since pages ask for the same again."""
    return compare(pairs)


def evidence(catches=None):
    """Return the Evidence in ``catches``, those shared in the whole fleet if None."""
    catches = shared_catches() if catches is None else catches
    groups, few, used, counted = {}, [], [], {}
    for species in SPECIES:
        of_group = [each for each in catches if each.group == species.key]
        going_in = usable(of_group)
        pairs = tuple(Pair(each.without_sweep, each.with_sweep, each.boat) for each in going_in)
        found = _compared(pairs) if pairs else None
        if found and found.enough:
            groups[species.key] = found
            used += going_in
            counted[species.key] = frozenset(each.pair for each in going_in)
        elif of_group:
            few.append(species.key)
    days = [each.day for each in used]
    return Evidence(
        groups,
        tuple(few),
        len({each.pair for each in used}),
        len({each.boat for each in used}),
        min(days, default=None),
        max(days, default=None),
        any(each.is_demo for each in used),
        counted,
    )
