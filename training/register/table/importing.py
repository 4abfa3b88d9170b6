"""Says what importing a draft would do, and does it: all that was shown, or nothing."""

from collections import Counter, defaultdict
from datetime import date
from typing import NamedTuple

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from training.people import sight

from .. import harbors, uptake
from ..deriving import derive
from ..folding import Happening
from ..models import AdoptionEvent, ImportDraft, Removal, Vessel
from ..stages import Known
from .comparing import ADD, ASK, CHANGE, FIELDS, REFUSE, Comparison, Outcome
from .entries import Answers, Reader, vocabulary

BATCH = 500


class Snapshot(NamedTuple):
    """
    The ``vessels`` of the register and what ``happened`` to each, by number.

    ``merged`` are the Removals of those that were merged into one of them.
    """

    vessels: list[Vessel]
    happened: dict[int, list[Happening]]
    merged: list[Removal]


def snapshot(with_events):
    """Return the Snapshot of the whole register, locked if in a transaction that can."""
    vessels = list(Vessel.objects.select_for_update().order_by("pk"))
    happened = defaultdict(list)
    if with_events:
        for vessel, *told in AdoptionEvent.objects.order_by().values_list(*uptake.EVENT):
            happened[vessel].append(Happening(*told))
    merged = Removal.objects.filter(undone=None, into__isnull=False)
    return Snapshot(vessels, happened, list(merged.select_related("vessel", "into")))


def compare(draft, register):
    """Return what importing ``draft`` into the Snapshot ``register`` would do, Outcome by row."""
    answers, told = Answers(**draft.answers), vocabulary()
    reader = Reader(draft.columns, answers, told, timezone.localdate())
    comparison = Comparison(register, sight.harbors_of(draft.owner), told, answers.twins)
    return [comparison.outcome(reader.read(line, cells)) for line, cells in draft.rows]


def register_for(draft):
    """Return the Snapshot that ``draft`` is to be compared with."""
    return snapshot(with_events="stage" in draft.columns)


def kept(outcomes):
    """Return Outcomes as JSON keeps them."""
    return [list(outcome) for outcome in outcomes]


def outcomes_of(draft):
    """Return the Outcomes that ``draft`` keeps."""
    return [Outcome(*each) for each in draft.outcomes]


def counts(outcomes):
    """Return how many rows are to be added, changed, left as they are and refused, by ``does``."""
    return Counter(outcome.does for outcome in outcomes)


@transaction.atomic
def confirm(draft_key, owner):
    """
    Do what the dry run ``draft_key`` of ``owner`` showed, all of it, once.

    Return the draft and whether it is done. It is not if the register has changed since
    so that something else would come of it; then the draft shows what would, and waits.
    """
    draft = ImportDraft.objects.select_for_update().get(key=draft_key, owner=owner)
    if draft.applied:
        return draft, True
    if draft.answers is None:
        return draft, False
    register = register_for(draft)
    outcomes = compare(draft, register)
    if kept(outcomes) != draft.outcomes:
        draft.outcomes = kept(outcomes)
        draft.save(update_fields=["outcomes"])
        return draft, False
    draft.done = _write(draft, register, outcomes)
    draft.applied = timezone.now()
    draft.added = sum(outcome.does == ADD for outcome in outcomes)
    draft.changed = sum(outcome.does == CHANGE for outcome in outcomes)
    # What is left to mend is all that anybody asks for later.
    to_mend = {outcome.line for outcome in outcomes if outcome.does in (REFUSE, ASK)}
    draft.rows = [[line, cells] for line, cells in draft.rows if line in to_mend]
    draft.sheets = []
    draft.save()
    return draft, True


def _write(draft, register, outcomes):
    """
    Write ``outcomes``; return what it takes to undo it, a dict for each vessel written to.

    It has the ``line``, the number of the ``vessel``, what was ``written`` and what stood
    there ``before``, by field, and the number of a new ``event``; None before for a new one.
    """
    there = {vessel.pk: vessel for vessel in register.vessels}
    added, changed, happened, done = [], [], [], []
    for outcome in outcomes:
        if outcome.does not in (ADD, CHANGE):
            continue
        vessel = Vessel() if outcome.does == ADD else there[outcome.vessel]
        before = {name: getattr(vessel, name) for name in outcome.values}
        done.append((outcome, vessel, None if outcome.does == ADD else before))
        for name, value in outcome.values.items():
            setattr(vessel, name, value)
        if outcome.does == ADD:
            added.append(vessel)
        elif outcome.values:
            changed.append(vessel)
        if outcome.event:
            happened.append((vessel, outcome))
    harbors.ensure(outcome.values.get("harbor", "") for outcome, *__ in done)
    # Changes first: they may free a name or a number.
    Vessel.objects.bulk_create(
        changed,
        batch_size=BATCH,
        update_conflicts=True,
        unique_fields=["id"],
        update_fields=[*FIELDS, "changed"],
    )
    Vessel.objects.bulk_create(added, batch_size=BATCH)
    events = [_event(draft, vessel, outcome) for vessel, outcome in happened]
    AdoptionEvent.objects.bulk_create(events, batch_size=BATCH)
    touched = [vessel.pk for vessel in (*added, *changed, *(each for each, __ in happened))]
    uptake.refresh(touched)
    for some in uptake.chunks(touched):
        derive(some)
    by_vessel = {event.vessel_id: event.pk for event in events}
    return [
        {
            "line": outcome.line,
            "vessel": vessel.pk,
            "written": outcome.values,
            "before": before,
            "event": by_vessel.get(vessel.pk),
        }
        for outcome, vessel, before in done
    ]


def _event(draft, vessel, outcome):
    stage, day = outcome.event
    return AdoptionEvent(
        vessel=vessel,
        stage=stage,
        day=date.fromisoformat(day),
        known=Known.REGISTER,
        note=_("{filename}, line {line}").format(filename=draft.filename, line=outcome.line),
        by=draft.owner,
        key=f"import:{draft.key}:{outcome.line}",
    )
