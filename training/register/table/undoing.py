"""
Undoing an import: what it wrote goes back, unless somebody did more with it since.

Vessels that it added are taken off the register, and can be put back like any other.
"""

import uuid
from typing import NamedTuple

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from training.people import sight

from .. import uptake
from ..deriving import derive
from ..models import AdoptionEvent, ImportDraft, Removal, Vessel
from ..removing import STAYS
from ..stages import Known
from .columns import HEADERS
from .comparing import FIELDS
from .entries import plain_place, plain_registration
from .importing import BATCH


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


def plan(draft, by):
    """Return what it means that ``by`` undoes ``draft``, an import that was done: an Undoing."""
    pks = [each["vessel"] for each in draft.done]
    vessels = sight.rows(Vessel.objects.all(), by).in_bulk(pks)
    standing = AdoptionEvent.objects.standing()
    events = standing.in_bulk([each["event"] for each in draft.done if each["event"]])
    used = _used([each["vessel"] for each in draft.done if each["before"] is None], draft)
    found = Undoing([], [], [], [])
    for each in draft.done:
        vessel = vessels.get(each["vessel"])
        if vessel is None:
            found.stayed.append(
                _(
                    "Line {line}: not on the register any more, or in a harbor that is not yours."
                ).format(line=each["line"])
            )
        elif each["before"] is None:
            _plan_removal(found, each, vessel, used)
        else:
            _plan_change(found, each, vessel, events)
    return _without_clashes(found)


def _plan_removal(found, told, vessel, used):
    written = Vessel(**told["written"])
    changed = any(getattr(vessel, name) != getattr(written, name) for name in FIELDS)
    if changed or vessel.pk in used:
        found.stayed.append(
            _(
                "Line {line}: {name} stays. It was changed since, or something is tied to it."
            ).format(line=told["line"], name=vessel.name)
        )
    else:
        found.remove.append((told["line"], vessel))


def _plan_change(found, told, vessel, events):
    back = {}
    for name, before in told["before"].items():
        if getattr(vessel, name) == told["written"][name]:
            back[name] = before
        else:
            found.stayed.append(
                _("Line {line}: the {field} of {name} stays. It was changed since.").format(
                    line=told["line"], field=HEADERS[name], name=vessel.name
                )
            )
    if back:
        found.change.append((vessel, back))
    if event := events.get(told["event"]):
        found.withdraw.append((told["line"], event))
    elif told["event"]:
        found.stayed.append(
            _("Line {line}: the stage of {name} stays. It was corrected since.").format(
                line=told["line"], name=vessel.name
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


@transaction.atomic
def undo(key, by):
    """Undo the import ``key``, once, and return its draft; ``by`` is who does."""
    draft = ImportDraft.objects.select_for_update().get(key=key, applied__isnull=False)
    if draft.undone:
        return draft
    # Held until it is over, so that nobody changes what was found unchanged.
    list(Vessel.objects.select_for_update().filter(pk__in=[each["vessel"] for each in draft.done]))
    found = plan(draft, by)
    now = timezone.now()
    _remove(found, draft, by, now)
    _change(found, now)
    AdoptionEvent.objects.bulk_create(
        (_withdrawal(draft, line, event, by) for line, event in found.withdraw), batch_size=BATCH
    )
    touched = {vessel.pk for __, vessel in found.remove} | {each.pk for each, __ in found.change}
    touched |= {event.vessel_id for __, event in found.withdraw}
    uptake.refresh(touched)
    for some in uptake.chunks(sorted(touched)):
        derive(some)
    draft.undone, draft.undone_by, draft.stayed = now, by, found.stayed
    draft.save(update_fields=["undone", "undone_by", "stayed"])
    return draft


def _remove(found, draft, by, now):
    Removal.objects.bulk_create(
        (
            Removal(key=uuid.uuid5(draft.key, str(line)), vessel=vessel, by=by)
            for line, vessel in found.remove
        ),
        batch_size=BATCH,
    )
    for some in uptake.chunks([vessel.pk for __, vessel in found.remove]):
        Vessel.objects.filter(pk__in=some).update(removed=now, changed=now)


def _change(found, now):
    for vessel, back in found.change:
        vessel.changed = now
        for name, value in back.items():
            setattr(vessel, name, value)
    changed = [vessel for vessel, __ in found.change]
    Vessel.objects.bulk_update(changed, [*FIELDS, "changed"], batch_size=BATCH)


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
