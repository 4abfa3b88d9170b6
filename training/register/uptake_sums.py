"""Uptake over time, from the sums kept by month: how many stood where, who came and left."""

from datetime import date
from itertools import accumulate
from typing import NamedTuple

from django.db.models import Case, Count, Q, Sum, Value, When

from rigs.rules.rulebook import ROUNDING
from training.people import sight

from .models import UptakeTally, Vessel
from .sizes import SIZES
from .stages import Stage

MOST_MONTHS = 36
"""As many months as a chart shows; what was before is in its first one."""


class StageMonths(NamedTuple):
    """One stage by month: how many ``entered``, how many ``left``, the ``stock`` at its end."""

    entered: tuple
    left: tuple
    stock: tuple


class Uptake(NamedTuple):
    """``months``, each by its first day, and a StageMonths for each Stage."""

    months: tuple
    rows: dict

    def latest(self, most=MOST_MONTHS):
        """Return the same for the last ``most`` months alone."""
        rows = {
            stage: StageMonths(*(values[-most:] for values in row))
            for stage, row in self.rows.items()
        }
        return Uptake(self.months[-most:], rows)


class ConvertedShare(NamedTuple):
    """Vessels of one harbor and size that still fish, and how many of them without a sweep."""

    harbor: str
    size: str
    vessels: int
    converted: int


def months_between(first, last):
    """Return the first days of the months from that of ``first`` to that of ``last``."""
    count = (last.year - first.year) * 12 + last.month - first.month + 1
    start = first.year * 12 + first.month - 1
    return tuple(date((start + i) // 12, (start + i) % 12 + 1, 1) for i in range(count))


def uptake(user, today, harbor="", size=""):
    """
    Return the Uptake of the vessels that ``user`` looks after, up to the month of ``today``.

    ``harbor`` and ``size``, a key, narrow it down. One query of as many rows as there
    are months and stages. The months begin with the first in which anything happened; a
    fleet of which nothing is known has the month of ``today`` alone.
    """
    tallies = sight.rows(UptakeTally.objects.filter(month__lte=today), user)
    if harbor:
        tallies = tallies.filter(harbor=harbor)
    if size:
        tallies = tallies.filter(size=size)
    sums = {
        (month, stage): (entered, left)
        for month, stage, entered, left in tallies.order_by()
        .values("month", "stage")
        .annotate(Sum("entered"), Sum("left"))
        .values_list("month", "stage", "entered__sum", "left__sum")
    }
    first = min((month for month, _ in sums), default=today)
    months = months_between(first, today)
    rows = {}
    for stage in Stage:
        moves = [sums.get((month, stage.value), (0, 0)) for month in months]
        entered, left = zip(*moves, strict=True)
        stock = accumulate(came - went for came, went in moves)
        rows[stage] = StageMonths(entered, left, tuple(stock))
    return Uptake(months, rows)


def by_size():
    """Return the database's expression for the key of a vessel's size."""
    return Case(
        *(
            When(length__lte=size.up_to + ROUNDING, then=Value(size.key))
            for size in SIZES
            if size.up_to is not None
        ),
        default=Value(SIZES[-1].key),
    )


def counts(user, harbor="", size=""):
    """
    Return a ConvertedShare for each harbor and size of which ``user`` looks after vessels.

    Vessels that no longer fish are left out. One query.
    """
    vessels = sight.rows(Vessel.objects.filter(is_fishing=True), user)
    if harbor:
        vessels = vessels.filter(harbor=harbor)
    vessels = vessels.annotate(size=by_size())
    if size:
        vessels = vessels.filter(size=size)
    converted = Count("pk", filter=Q(standing__stage=Stage.CONVERTED))
    found = vessels.order_by("harbor", "size").values("harbor", "size")
    return [
        ConvertedShare(*row)
        for row in found.annotate(vessels=Count("pk"), converted=converted).values_list(
            "harbor", "size", "vessels", "converted"
        )
    ]


def total(found):
    """Return (vessels, converted) of Cells together."""
    return sum(each.vessels for each in found), sum(each.converted for each in found)


def grouped(found, field):
    """Return dict of (vessels, converted) of Cells by ``field``, harbor or size, in order."""
    groups = {}
    for each in found:
        vessels, converted = groups.get(getattr(each, field), (0, 0))
        groups[getattr(each, field)] = (vessels + each.vessels, converted + each.converted)
    if field == "size":
        return {size.key: groups[size.key] for size in SIZES if size.key in groups}
    return groups
