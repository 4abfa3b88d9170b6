"""Uptake over time, from the sums kept by month: how many stood where, who came and left."""

from collections import Counter, defaultdict
from datetime import date
from itertools import accumulate
from typing import NamedTuple

from django.db.models import Case, Count, Q, Sum, Value, When
from django.utils.translation import gettext as _

from rigs.rules.rulebook import ROUNDING
from training.deck.plain import ON_THE_REGISTER, listed, without_a_sweep
from training.people import sight

from .models import UptakeTally, Vessel, VesselState
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


class StageDays(NamedTuple):
    """How many stood at each Stage from each of ``days`` on, through the day ``until``."""

    days: tuple
    until: date
    stocks: dict


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
    # A row of nothing is what a correction has left behind.
    moved = Q(entered__gt=0) | Q(left__gt=0)
    tallies = sight.rows(UptakeTally.objects.filter(moved, month__lte=today), user)
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


def day_by_day(user, today, harbor="", size=""):
    """
    Return the StageDays of the same vessels, on the days on which anything moved.

    It begins MOST_MONTHS before the end of this month at the earliest, with what stood where
    then. One query.
    """
    states = sight.rows(VesselState.objects.exclude(counted={}), user)
    if harbor:
        states = states.filter(vessel__harbor=harbor)
    told = defaultdict(Counter)  # by the day as it is kept: there are many more moves than days
    for counted in states.order_by().values_list("counted", flat=True).iterator():
        if size in ("", counted["size"]):
            for day, left, entered in counted["moves"]:
                change = told[day]
                change[entered] += 1
                if left:
                    change[left] -= 1
    changes = defaultdict(Counter, {date.fromisoformat(day): told[day] for day in told})
    first = months_between(today, today)[0]
    first = months_between(date(first.year - MOST_MONTHS // 12, first.month, 1), today)[1]
    stood = Counter()
    for day in [day for day in changes if day < first]:
        stood.update(changes.pop(day))
    if stood:
        changes[first].update(stood)
    days = sorted(day for day in changes if day <= today) or [today]
    stocks = {
        stage: tuple(accumulate(changes[day][stage.value] for day in days)) for stage in Stage
    }
    return StageDays(tuple(days), today, stocks)


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


def sentence(user, found, harbor="", size=""):
    """
    Return one sentence on how many of the Cells ``found``, for ``user``, fish without a sweep.

    Empty for staff who look after no harbor now: of them it would speak of no fleet at all.
    """
    harbors = {harbor} if harbor else sight.harbors_of(user)
    if harbors is None:
        where = ON_THE_REGISTER
    elif harbors:
        where = _("of {harbors}").format(harbors=listed(sorted(harbors)))
    else:
        return ""
    if size:
        where = f"{where}, {next(each.words for each in SIZES if each.key == size)},"
    vessels, converted = total(found)
    return without_a_sweep(converted, vessels, where)


def grouped(found, field):
    """Return dict of (vessels, converted) of Cells by ``field``, harbor or size, in order."""
    groups = {}
    for each in found:
        vessels, converted = groups.get(getattr(each, field), (0, 0))
        groups[getattr(each, field)] = (vessels + each.vessels, converted + each.converted)
    if field == "size":
        return {size.key: groups[size.key] for size in SIZES if size.key in groups}
    return groups
