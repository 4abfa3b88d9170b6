"""Imports a register: a dry run that is kept and shown, and then all of it or nothing."""

from collections import Counter, defaultdict
from datetime import date, timedelta
from typing import NamedTuple

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from training.people import sight

from .. import uptake
from ..deriving import derive
from ..folding import Happening
from ..models import AdoptionEvent, ImportDraft, Vessel
from ..stages import Known
from ..wording import stage_words
from .columns import headings_of
from .comparing import ADD, CHANGE, FIELDS, Comparison, Outcome
from .entries import Reader
from .reading import read

KEPT_FOR = timedelta(days=1)  # a dry run nobody confirms
BATCH = 500


class Snapshot(NamedTuple):
    """The ``vessels`` of the register and what ``happened`` to each, by number."""

    vessels: list[Vessel]
    happened: dict[int, list[Happening]]


def snapshot(with_events):
    """Return the Snapshot of the whole register, locked if in a transaction that can."""
    vessels = list(Vessel.objects.select_for_update().order_by("pk"))
    happened = defaultdict(list)
    if with_events:
        for vessel, *told in AdoptionEvent.objects.order_by().values_list(*uptake.EVENT):
            happened[vessel].append(Happening(*told))
    return Snapshot(vessels, happened)


def compare(draft, register):
    """Return what importing ``draft`` into the Snapshot ``register`` would do, Outcome by row."""
    reader = Reader(headings_of(draft.headers), stage_words(), timezone.localdate())
    comparison = Comparison(register, sight.harbors_of(draft.owner), reader.gear_titles)
    return [comparison.outcome(reader.read(line, cells)) for line, cells in draft.rows]


@transaction.atomic
def dry_run(file, owner, key):
    """
    Return the ImportDraft of an uploaded ``file``, made once per ``key``; write no vessel.

    Raise RegisterError if the file is none that can be imported.
    """
    ImportDraft.objects.filter(made__lt=timezone.now() - KEPT_FOR).delete()
    if found := ImportDraft.objects.filter(key=key, owner=owner).first():
        return found
    table = read(file)
    told = {"filename": file.name[:200], "headers": table.headers, "rows": table.rows}
    draft = ImportDraft(key=key, owner=owner, **told)
    told["outcomes"] = _kept(compare(draft, _register(draft)))
    return ImportDraft.objects.get_or_create(key=key, owner=owner, defaults=told)[0]


def _register(draft):
    """Return the Snapshot that ``draft`` is to be compared with."""
    return snapshot(with_events="stage" in headings_of(draft.headers).places)


def _kept(outcomes):
    """Return Outcomes as JSON keeps them."""
    return [list(outcome) for outcome in outcomes]


def outcomes_of(draft):
    """Return the Outcomes that ``draft`` keeps."""
    return [Outcome(*kept) for kept in draft.outcomes]


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
    register = _register(draft)
    outcomes = compare(draft, register)
    if _kept(outcomes) != draft.outcomes:
        draft.outcomes = _kept(outcomes)
        draft.save(update_fields=["outcomes"])
        return draft, False
    _write(draft, register, outcomes)
    draft.applied = timezone.now()
    draft.save(update_fields=["applied"])
    return draft, True


def _write(draft, register, outcomes):
    there = {vessel.pk: vessel for vessel in register.vessels}
    added, changed, happened = [], [], []
    for outcome in outcomes:
        if outcome.does not in (ADD, CHANGE):
            continue
        vessel = Vessel() if outcome.does == ADD else there[outcome.vessel]
        for name, value in outcome.values.items():
            setattr(vessel, name, value)
        if outcome.does == ADD:
            added.append(vessel)
        elif outcome.values:
            changed.append(vessel)
        if outcome.event:
            happened.append((vessel, outcome))
    # Changes first: they may free a name or a number.
    Vessel.objects.bulk_create(
        changed,
        batch_size=BATCH,
        update_conflicts=True,
        unique_fields=["id"],
        update_fields=[*FIELDS, "changed"],
    )
    Vessel.objects.bulk_create(added, batch_size=BATCH)
    AdoptionEvent.objects.bulk_create(
        (_event(draft, vessel, outcome) for vessel, outcome in happened), batch_size=BATCH
    )
    touched = [vessel.pk for vessel in (*added, *changed, *(each for each, __ in happened))]
    uptake.refresh(touched)
    for some in uptake.chunks(touched):
        derive(some)


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
