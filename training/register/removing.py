"""
Taking vessels off the register, alone or into another one, and putting them back.

What points at a vessel goes along into the other, whichever room it is of. The register is
told by the vessels' own saving (see ``receivers``), here in one transaction.
"""

from typing import NamedTuple

from django.db import IntegrityError, transaction
from django.db.models import Q
from django.utils import timezone
from django.utils.translation import gettext as _

from .models import AdoptionEvent, Crew, Removal, Vessel, VesselDetails, VesselState

# What the register said of each stays with each; the state is made anew.
STAYS = (VesselDetails, VesselState, Removal)


class RemovalError(ValueError):
    """What cannot be removed, merged or put back as things are; the message says why."""


class PutBack(NamedTuple):
    """How many rows of those that had gone along came back, and how many could not."""

    back: int
    stayed: int


@transaction.atomic
def remove(vessel, by, key):
    """Take ``vessel`` off the register; return the Removal, made once per ``key``, a UUID."""
    if found := Removal.objects.filter(key=key).first():
        return found
    vessel = _held(vessel)[0]
    found = Removal.objects.create(key=key, vessel=vessel, by=by)
    _take_off(vessel)
    return found


@transaction.atomic
def merge(vessel, into, by, key, values=None):
    """
    Take ``vessel`` off the register and give ``into`` all that is tied to it.

    ``values`` are what ``into`` is from now on, by field, where that is otherwise. Return the
    Removal, made once per ``key``, a UUID. Raise RemovalError if one of them is not there.
    """
    if found := Removal.objects.filter(key=key).first():
        return found
    if vessel.pk == into.pk:
        raise RemovalError(_("Choose another vessel: this is the same one."))
    vessel, into = _held(vessel, into)
    found = Removal(key=key, vessel=vessel, into=into, by=by)
    _take_off(vessel)
    found.changed = _one_berth_each(vessel, into)
    for name, value in (values or {}).items():
        found.changed += _change(into, name, value)
    for model, field in _pointing():
        if moved := _move(model, field, vessel, into):
            found.moved[f"{model._meta.label}.{field}"] = moved
    found.save()
    into.save()
    return found


@transaction.atomic
def put_back(removal, by):
    """
    Undo ``removal``; return the PutBack. What was done to the other vessel since stays with it.

    Raise RemovalError if another vessel has taken its name or number, or if the vessel that
    it was merged into is not on the register either.
    """
    held = Removal.objects.select_for_update(of=("self",)).select_related("vessel", "into")
    removal = held.get(pk=removal.pk)
    if removal.undone:
        return PutBack(0, 0)
    vessel, into = removal.vessel, removal.into
    if into and into.removed:
        raise RemovalError(
            _("{other} is not on the register. Put {other} back first.").format(other=into.name)
        )
    for told in reversed(removal.changed):
        _change_back(*told)
    if twin := _twin(vessel):
        raise RemovalError(
            _(
                "{name} of {harbor} now has this name or number. Change or merge that vessel first."
            ).format(name=twin.name, harbor=twin.harbor)
        )
    # Saved, and so told to the register, once all is where it was.
    Vessel.every.filter(pk=vessel.pk).update(removed=None)
    counts = [_move_back(removal, model, field) for model, field in _pointing()]
    removal.undone, removal.undone_by = timezone.now(), by
    removal.save(update_fields=["undone", "undone_by"])
    for each in filter(None, (vessel, into)):
        Vessel.objects.get(pk=each.pk).save()
    return PutBack(*(sum(each) for each in zip(*counts, strict=True)))


def _held(*vessels):
    """Return ``vessels`` anew, locked. Raise RemovalError unless all are on the register."""
    pks = [each.pk for each in vessels]
    found = Vessel.objects.select_for_update().order_by("pk").in_bulk(pks)
    if len(found) < len(pks):
        raise RemovalError(_("This vessel is not on the register any more."))
    return [found[pk] for pk in pks]


def _take_off(vessel):
    vessel.removed = timezone.now()
    vessel.save(update_fields=["removed", "changed"])


def _pointing():
    """Yield (model, field) of all that points at a vessel and goes along with it."""
    for relation in Vessel._meta.related_objects:
        if relation.related_model not in STAYS:
            yield relation.related_model, relation.field.name


def _one_berth_each(vessel, into):
    """
    Let whoever fishes on both be on ``into`` once, from the earlier day; return what changed.

    The other berth stays with ``vessel``. An owner or captain of either is one of both.
    """
    changed = []
    here = {each.user_id: each for each in Crew.every.filter(vessel=into, until=None)}
    for twin in Crew.every.filter(vessel=vessel, until=None, user__in=here):
        berth = here[twin.user_id]
        changed += _change(berth, "since", min(berth.since, twin.since))
        if berth.part == Crew.Part.CREW:
            changed += _change(berth, "part", twin.part)
        berth.save()
    return changed


def _change(row, name, value):
    """Set the field ``name`` of ``row``, not saved; return what Removal keeps of it, in a list."""
    field = row._meta.get_field(name)
    before = field.value_to_string(row)
    setattr(row, name, value)
    after = field.value_to_string(row)
    return [] if before == after else [[row._meta.label, row.pk, name, before, after]]


def _change_back(label, pk, name, before, after):
    """Undo a change that Removal kept, unless something else was written there since."""
    model = {each._meta.label: each for each in (Vessel, Crew)}[label]
    row = model.every.filter(pk=pk).first()
    field = model._meta.get_field(name)
    if row is not None and field.value_to_string(row) == after:
        setattr(row, name, field.to_python(before))
        row.save(update_fields=[name])


def _move(model, field, vessel, into):
    """Have the rows of ``model`` that point at ``vessel`` point at ``into``; return which."""
    moved = []
    rows = model._base_manager.filter(**{field: vessel})
    for pk in rows.values_list("pk", flat=True):
        # What is there once for a vessel stays behind if the other has one.
        try:
            with transaction.atomic():
                model._base_manager.filter(pk=pk).update(**{field: into})
        except IntegrityError:
            continue
        moved.append(pk)
    return moved


def _move_back(removal, model, field):
    """Return how many rows were moved back, and how many not."""
    pks = removal.moved.get(f"{model._meta.label}.{field}", [])
    if model is AdoptionEvent:
        pks = _with_followers(pks)
    there = model._base_manager.filter(pk__in=pks, **{field: removal.into})
    back = there.update(**{field: removal.vessel})
    return back, model._base_manager.filter(pk__in=pks).count() - back


def _with_followers(pks):
    """Return ``pks`` of events with those that came in their place since."""
    found = later = set(pks)
    while later:
        later = set(AdoptionEvent.objects.filter(corrects__in=later).values_list("pk", flat=True))
        later -= found
        found |= later
    return found


def _twin(vessel):
    same = Q(name__iexact=vessel.name, harbor=vessel.harbor)
    if vessel.registration:
        same |= Q(registration__iexact=vessel.registration)
    return Vessel.objects.filter(same).first()
