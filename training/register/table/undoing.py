"""
Undoing an import: what it wrote goes back, unless somebody did more with it since.

Vessels that it added are taken off the register, and can be put back like any other.
"""

import uuid
from typing import NamedTuple

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from training.deck.saving import save_again
from training.people import sight
from training.work import asking, kinds

from .. import uptake
from ..deriving import derive
from ..models import AdoptionEvent, ImportDraft, ImportWrite, Removal, Vessel
from ..removing import STAYS
from ..stages import Known
from .columns import HEADERS
from .comparing import FIELDS
from .entries import plain_place, plain_registration
from .importing import BATCH, DraftWork, held

State = ImportWrite.State


class Undoing(NamedTuple):
    """
    What undoing an import does: vessels to ``remove``, each with its line in the file, to
    ``change`` with what their fields were, and events to ``withdraw``, each with its line.

    ``stayed`` says in sentences what stays as it is, and why.
    """

    remove: list[tuple[int, Vessel]]
    change: list[tuple[Vessel, dict]]
    withdraw: list[tuple[int, AdoptionEvent]]
    stayed: list[str]


def plan(draft, by, writes=None):
    """Return what it means that ``by`` undoes ``writes`` of ``draft``, all of them if left out."""
    if writes is None:
        writes = list(draft.writes.filter(state=State.WRITTEN).order_by("line"))
    vessels = sight.rows(Vessel.objects.all(), by).in_bulk([each.vessel for each in writes])
    standing = AdoptionEvent.objects.standing()
    events = standing.in_bulk([each.event for each in writes if each.event])
    used = _used([each.vessel for each in writes if each.is_new], draft)
    found = Undoing([], [], [], [])
    for each in writes:
        vessel = vessels.get(each.vessel)
        if vessel is None:
            found.stayed.append(
                _(
                    "Line {line}: not on the register any more, or in a harbor that is not yours."
                ).format(line=each.line)
            )
        elif each.is_new:
            _plan_removal(found, each, vessel, used)
        else:
            _plan_change(found, each, vessel, events)
    return _without_clashes(found) if found.change else found


def _plan_removal(found, told, vessel, used):
    written = Vessel(**told.values)
    changed = any(getattr(vessel, name) != getattr(written, name) for name in FIELDS)
    if changed or vessel.pk in used:
        found.stayed.append(
            _(
                "Line {line}: {name} stays. It was changed since, or something is tied to it."
            ).format(line=told.line, name=vessel.name)
        )
    else:
        found.remove.append((told.line, vessel))


def _plan_change(found, told, vessel, events):
    back = {}
    for name, before in told.before.items():
        if getattr(vessel, name) == told.values[name]:
            back[name] = before
        else:
            found.stayed.append(
                _("Line {line}: the {field} of {name} stays. It was changed since.").format(
                    line=told.line, field=HEADERS[name], name=vessel.name
                )
            )
    if back:
        found.change.append((vessel, back))
    if event := events.get(told.event):
        found.withdraw.append((told.line, event))
    elif told.event:
        found.stayed.append(
            _("Line {line}: the stage of {name} stays. It was corrected since.").format(
                line=told.line, name=vessel.name
            )
        )


def _used(pks, draft):
    """Return those of the vessels ``pks`` that anything but this import is tied to."""
    found = set()
    for relation in Vessel._meta.related_objects:
        model, field = relation.related_model, relation.field.name
        if model in STAYS:
            continue
        rows = model._base_manager.filter(**{f"{field}__in": pks})
        if model is AdoptionEvent:
            # A sheet that names the vessel is without one again, as it was before.
            rows = rows.exclude(key__startswith=f"import:{draft.key}:").exclude(known=Known.SHEET)
        found |= set(rows.values_list(field, flat=True))
    return found


def _without_clashes(found):
    """Return ``found`` without changes by which two vessels would have one name or number."""
    gone = {vessel.pk for __, vessel in found.remove}
    places, numbers = {}, {}
    for pk, name, harbor, number in Vessel.objects.values_list(
        "pk", "name", "harbor", "registration"
    ):
        if pk not in gone:
            places[plain_place(name, harbor)] = pk
            numbers[plain_registration(number)] = pk
    kept = []
    for vessel, back in found.change:
        place = plain_place(back.get("name", vessel.name), back.get("harbor", vessel.harbor))
        number = plain_registration(back.get("registration", ""))
        has_place = places.get(place, vessel.pk)
        has_number = numbers.get(number, vessel.pk) if number else vessel.pk
        if has_place == has_number == vessel.pk:
            kept.append((vessel, back))
        else:
            found.stayed.append(
                _(
                    "{name} stays as it is. Another vessel has its former name or number now."
                ).format(name=vessel.name)
            )
    return found._replace(change=kept)


def undo(key, by):
    """Have the import ``key`` undone, once, by ``by``; return its draft, undone if it is short."""
    with transaction.atomic():
        draft = held(key, applied__isnull=False)
        is_over = draft.undone is not None or draft.is_busy
        number = draft.writes.filter(state=State.WRITTEN).count()
        broke_off = draft.job is not None and draft.job.kind == UndoWork.slug
    if not is_over and broke_off and draft.job.owner_id == by.pk:
        asking.go_on(draft.job_id)
    elif not is_over:
        order = asking.Order(UndoWork.slug, {"draft": str(draft.key)}, number)
        asking.ask(order, by, asking.next_key(draft.key, draft.job))
    return ImportDraft.objects.select_related("job").get(pk=key)


@kinds.kind
class UndoWork(DraftWork):
    """Undoing an import, batch by batch: what it added first, so that names are free again."""

    slug = "register-undo"

    def title(self, job):
        return _("Undoing the import of {filename}").format(filename=self.filename(job))

    def work(self, run):
        draft = ImportDraft.objects.get(pk=run.job.about["draft"])
        if draft.job_id != run.job.pk or draft.undone:
            return
        written = draft.writes.filter(state=State.WRITTEN).order_by("-is_new", "line")
        while batch := list(written[: run.room(BATCH)]):
            with run.step(done=len(batch)):
                _undo_some(draft, batch, run.job.owner)
        with run.step():
            draft.undone, draft.undone_by = timezone.now(), run.job.owner
            stayed = draft.writes.exclude(stayed=[]).order_by("line")
            draft.stayed = [words for each in stayed for words in each.stayed]
            draft.save(update_fields=["undone", "undone_by", "stayed"])

    def said(self, job):
        if job.state == job.State.DONE:
            return _("The import is undone. What was changed since stayed as it is.")
        return _("What is undone so far stays undone.")


def _undo_some(draft, batch, by):
    """Undo ``batch``, ImportWrites, in a transaction, and note what stayed of them."""
    # Held until it is over, so that nobody changes what was found unchanged.
    list(Vessel.objects.select_for_update().filter(pk__in=[each.vessel for each in batch]))
    found, now = plan(draft, by, batch), timezone.now()
    _remove(found, draft, by, now)
    _change(found, now)
    AdoptionEvent.objects.bulk_create(
        _withdrawal(draft, line, event, by) for line, event in found.withdraw
    )
    touched = {vessel.pk for __, vessel in found.remove} | {each.pk for each, __ in found.change}
    touched |= {event.vessel_id for __, event in found.withdraw}
    uptake.refresh(touched)
    derive(sorted(touched))
    for each in batch:
        each.state = State.UNDONE
    batch[0].stayed = found.stayed
    save_again(batch, ["state", "stayed"])


def _remove(found, draft, by, now):
    Removal.objects.bulk_create(
        (
            Removal(key=uuid.uuid5(draft.key, str(line)), vessel=vessel, by=by)
            for line, vessel in found.remove
        )
    )
    pks = [vessel.pk for __, vessel in found.remove]
    Vessel.objects.filter(pk__in=pks).update(removed=now, changed=now)


def _change(found, now):
    for vessel, back in found.change:
        vessel.changed = now
        for name, value in back.items():
            setattr(vessel, name, value)
    changed = [vessel for vessel, __ in found.change]
    save_again(changed, [*FIELDS, "changed"])


def _withdrawal(draft, line, event, by):
    return AdoptionEvent(
        vessel_id=event.vessel_id,
        stage=event.stage,
        day=event.day,
        known=event.known,
        corrects=event,
        is_withdrawal=True,
        by=by,
        note=_("The import of {filename} was undone.").format(filename=draft.filename),
        key=f"undo:{draft.key}:{line}",
    )
