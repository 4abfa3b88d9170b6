"""
Where each vessel stands and how many came to each stage, kept up with the events.

``VesselState.counted`` holds what of a vessel is in ``UptakeTally``. A change takes that
out and puts in the new, in the transaction of the change; so the sums need no recount,
and yet can be made from nothing.
"""

from collections import Counter, defaultdict
from datetime import date
from typing import NamedTuple

from django.db import connection, transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from training.deck.saving import save_again

from .folding import Happening, fold
from .models import AdoptionEvent, UptakeTally, Vessel, VesselDetails, VesselState
from .sizes import size_of

CHUNK = 500  # vessels at a time: long lists of numbers are more than a query takes
FOLDED = ("stage", "since", "first_contact", "converted", "went_back", "last_event")
DETAILS = ("harbor", "length", "is_fishing")
EVENT = ("vessel", "pk", "stage", "day", "recorded", "corrects", "is_withdrawal")


class TallyPlace(NamedTuple):
    """What tells one row of UptakeTally from another; ``month`` is its first day."""

    harbor: str
    size: str
    month: date
    stage: str


def chunks(numbers):
    """Yield ``numbers``, a list, in lists of at most CHUNK."""
    for start in range(0, len(numbers), CHUNK):
        yield numbers[start : start + CHUNK]


def standings(vessel_pks):
    """Return what the events of each of a chunk of vessels come to, Standing by vessel."""
    events = AdoptionEvent.objects.filter(vessel__in=vessel_pks).order_by()
    by_vessel = defaultdict(list)
    for vessel, *told in events.values_list(*EVENT):
        by_vessel[vessel].append(Happening(*told))
    return {pk: fold(by_vessel[pk]) for pk in vessel_pks}


def _state(vessel, found):
    """Return the VesselState of ``vessel`` at the Standing ``found``, not saved."""
    counted = {}
    if found.moves:
        counted = {
            "harbor": vessel.harbor,
            "size": size_of(vessel.length).key,
            "moves": [[move.day.isoformat(), move.left, str(move.entered)] for move in found.moves],
        }
    told = {name: getattr(found, name) for name in FOLDED}
    return VesselState(vessel_id=vessel.pk, counted=counted, **told)


def _entries(counted):
    """Return what ``counted`` adds to the tallies: numbers by (TallyPlace, name of the column)."""
    entries = Counter()
    for day, left, entered in counted.get("moves", ()):
        month = date.fromisoformat(day).replace(day=1)
        place = counted["harbor"], counted["size"], month
        entries[TallyPlace(*place, entered), "entered"] += 1
        if left:
            entries[TallyPlace(*place, left), "left"] += 1
    return entries


def _same(state, other):
    return all(getattr(state, name) == getattr(other, name) for name in (*FOLDED, "counted"))


@transaction.atomic
def refresh(vessel_pks):
    """
    Bring the states of the vessels and the tallies up to date with their events.

    To be called in the transaction that changed the events, the harbor or the length.
    """
    changes = Counter()
    for some in chunks(sorted(set(vessel_pks))):
        _refresh_states(some, changes)
    _add({key: number for key, number in changes.items() if number})


def _refresh_states(vessel_pks, changes):
    """Save the states of a chunk of vessels, and note in ``changes`` what they now count for."""
    # The lock keeps two changes of one vessel from each missing the other's event.
    every = Vessel.every.select_for_update().filter(pk__in=vessel_pks).order_by("pk")
    every = list(every.only("pk", "added", "removed", *DETAILS))
    vessels = [vessel for vessel in every if vessel.removed is None]
    _keep_details(vessels)
    found = standings([vessel.pk for vessel in vessels])
    old = VesselState.objects.in_bulk([vessel.pk for vessel in every])
    _forget([old[vessel.pk] for vessel in every if vessel.removed and vessel.pk in old], changes)
    changed = []
    for vessel in vessels:
        state, before = _state(vessel, found[vessel.pk]), old.get(vessel.pk)
        if before is None or not _same(state, before):
            changed.append(state)
            changes.subtract(_entries(before.counted if before else {}))
            changes.update(_entries(state.counted))
    VesselState.objects.bulk_create(
        changed,
        update_conflicts=True,
        unique_fields=["vessel"],
        update_fields=[*FOLDED, "counted"],
    )


def _forget(states, changes):
    """Delete the ``states`` of vessels taken off the register, and note what is left to count."""
    for state in states:
        changes.subtract(_entries(state.counted))
    if states:
        VesselState.objects.filter(pk__in=[state.pk for state in states]).delete()


def _keep_details(vessels):
    """Note what the register says of ``vessels`` now, of those of which it said otherwise."""
    told = VesselDetails.objects.filter(vessel__in=[vessel.pk for vessel in vessels])
    latest = {row[0]: row[1:] for row in told.values_list("vessel", *DETAILS)}
    now = timezone.now()
    VesselDetails.objects.bulk_create(
        VesselDetails(
            vessel=vessel,
            since=now if vessel.pk in latest else vessel.added,
            **{name: getattr(vessel, name) for name in DETAILS},
        )
        for vessel in vessels
        if latest.get(vessel.pk) != tuple(getattr(vessel, name) for name in DETAILS)
    )


def _add(changes):
    """Add ``changes``, numbers by (TallyPlace, column), to the tallies."""
    if not changes:
        return
    cells = sorted({cell for cell, __ in changes})
    UptakeTally.objects.bulk_create(
        (UptakeTally(**cell._asdict()) for cell in cells), ignore_conflicts=True
    )
    tallies = UptakeTally.objects.select_for_update().filter(
        harbor__in={cell.harbor for cell in cells}, month__in={cell.month for cell in cells}
    )
    touched = []
    for tally in tallies.order_by(*TallyPlace._fields):
        cell = _cell(tally)
        entered, left = changes.get((cell, "entered"), 0), changes.get((cell, "left"), 0)
        if entered or left:
            tally.entered += entered
            tally.left += left
            touched.append(tally)
    save_again(touched, ["entered", "left"])


def _cell(tally):
    return TallyPlace(*(getattr(tally, name) for name in TallyPlace._fields))


def rebuild(say=lambda line: None):
    """
    Make all states and tallies anew from the events; ``say`` gets lines of progress.

    States are saved chunk by chunk and the tallies at one stroke at the end, so that it
    can be stopped at any time and leaves what agrees with the events.
    """
    vessel_pks = list(Vessel.every.order_by("pk").values_list("pk", flat=True))
    done = 0
    for some in chunks(vessel_pks):
        refresh(some)
        done += len(some)
        say(
            _("  {done} of {vessel_pks} vessels looked at.").format(
                done=done, vessel_pks=len(vessel_pks)
            )
        )
    with transaction.atomic():
        _hold_tallies()
        entries = Counter()
        for counted in VesselState.objects.values_list("counted", flat=True).iterator():
            entries.update(_entries(counted))
        UptakeTally.objects.all().delete()
        UptakeTally.objects.bulk_create(_tallies(entries))


def _hold_tallies():
    """Keep others from changing the tallies until the transaction is over."""
    # SQLite lets one transaction write at a time anyhow.
    if connection.vendor == "postgresql":
        with connection.cursor() as cursor:
            cursor.execute(f"LOCK TABLE {UptakeTally._meta.db_table} IN SHARE ROW EXCLUSIVE MODE")


def _tallies(entries):
    """Return ``entries``, numbers by (TallyPlace, column), as UptakeTally rows."""
    return [
        UptakeTally(**cell._asdict(), entered=entries[cell, "entered"], left=entries[cell, "left"])
        for cell in sorted({cell for cell, __ in entries})
    ]


@transaction.atomic
def check():
    """
    Count everything again, and return what is kept otherwise, as lines of text.

    Nothing is changed. States are named first, then tallies.
    """
    different, entries = [], Counter()
    for some in chunks(list(Vessel.objects.order_by("pk").values_list("pk", flat=True))):
        found, kept = standings(some), VesselState.objects.in_bulk(some)
        for vessel in Vessel.objects.filter(pk__in=some).order_by("pk"):
            state = _state(vessel, found[vessel.pk])
            entries.update(_entries(state.counted))
            if vessel.pk not in kept or not _same(state, kept[vessel.pk]):
                different.append(
                    _("{name}, {harbor}: not kept as its events say").format(
                        name=vessel.name, harbor=vessel.harbor
                    )
                )
    kept = {
        _cell(tally): (tally.entered, tally.left)
        for tally in UptakeTally.objects.all()
        if tally.entered or tally.left
    }
    counted = {_cell(tally): (tally.entered, tally.left) for tally in _tallies(entries)}
    for cell in sorted(kept.keys() | counted.keys()):
        there, should = kept.get(cell, (0, 0)), counted.get(cell, (0, 0))
        if there != should:
            different.append(
                _(
                    "{harbor}, {size}, {month:%Y-%m}, {stage}: {there} in and {there2} out kept, "
                    "{should} and {should2} counted"
                ).format(
                    harbor=cell.harbor,
                    size=cell.size,
                    month=cell.month,
                    stage=cell.stage,
                    there=there[0],
                    there2=there[1],
                    should=should[0],
                    should2=should[1],
                )
            )
    return different
