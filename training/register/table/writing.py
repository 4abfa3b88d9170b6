"""Writing a batch of lines of a register, each only if what was shown still holds."""

from datetime import date

from django.db.models import Q
from django.utils.translation import gettext as _

from training.deck.saving import save_again
from training.people import sight

from .. import harbors, uptake
from ..deriving import derive
from ..models import AdoptionEvent, ImportWrite, Vessel
from ..stages import Known
from .comparing import FIELDS
from .entries import plain_place, plain_registration

State = ImportWrite.State


class Writer:
    """Writes lines of ``draft``; it knows who has which name and number, and keeps that up."""

    def __init__(self, draft):
        self.draft = draft
        reach = sight.harbors_of(draft.owner)
        self.reach = None if reach is None else {each.casefold() for each in reach}
        self.taken = {}
        for told in Vessel.objects.values_list("pk", "name", "harbor", "registration"):
            self._take(*told)

    def _take(self, pk, name, harbor, registration):
        self.taken[plain_place(name, harbor)] = pk
        if number := plain_registration(registration):
            self.taken[number] = pk

    def write(self, batch):
        """Write ``batch``, ImportWrites that wait, in a transaction; note what became of each."""
        pks = [each.vessel for each in batch if not each.is_new]
        there = Vessel.objects.select_for_update().in_bulk(pks)
        places, numbers = _exact(batch)
        pairs = []
        for each in batch:
            vessel = Vessel() if each.is_new else there.get(each.vessel)
            if self._holds(each, vessel, places, numbers):
                for name, value in each.values.items():
                    setattr(vessel, name, value)
                pairs.append((each, vessel))
            else:
                each.state = State.LEFT
        self._save(pairs)
        save_again(batch, ["vessel", "event", "state"])

    def _holds(self, write, vessel, places, numbers):
        """Return whether ``vessel`` is as it was when the line was shown, and free to be so."""
        if vessel is None:
            return False
        before = write.before or {}
        if any(getattr(vessel, name) != value for name, value in before.items()):
            return False
        if (
            self.reach is not None
            and not write.is_new
            and vessel.harbor.casefold() not in self.reach
        ):
            return False
        told = {name: write.values.get(name, getattr(vessel, name)) for name in FIELDS}
        wants = [plain_place(told["name"], told["harbor"])]
        if number := plain_registration(told["registration"]):
            wants.append(number)
        owners = {self.taken.get(each, vessel.pk) for each in wants}
        owners.add(places.get((told["name"], told["harbor"]), vessel.pk))
        owners.add(numbers.get(told["registration"], vessel.pk))
        return owners == {vessel.pk}

    def _save(self, pairs):
        harbors.ensure(each.values.get("harbor", "") for each, __ in pairs)
        changed = [vessel for each, vessel in pairs if not each.is_new and each.values]
        added = [vessel for each, vessel in pairs if each.is_new]
        save_again(changed, [*FIELDS, "changed"])
        Vessel.objects.bulk_create(added)
        events = {each.line: self._event(each, vessel) for each, vessel in pairs if each.tells}
        AdoptionEvent.objects.bulk_create(events.values())
        for each, vessel in pairs:
            each.vessel, each.state = vessel.pk, State.WRITTEN
            each.event = events[each.line].pk if each.tells else None
            self._take(vessel.pk, vessel.name, vessel.harbor, vessel.registration)
        touched = sorted(vessel.pk for __, vessel in pairs)
        uptake.refresh(touched)
        derive(touched)

    def _event(self, write, vessel):
        stage, day = write.tells
        return AdoptionEvent(
            vessel=vessel,
            stage=stage,
            day=date.fromisoformat(day),
            known=Known.REGISTER,
            note=_("{filename}, line {line}").format(filename=self.draft.filename, line=write.line),
            by=self.draft.owner,
            key=f"import:{self.draft.key}:{write.line}",
        )


def _exact(batch):
    """Return who has the very names and numbers that ``batch`` writes, as of this moment."""
    names = {each.values["name"] for each in batch if each.values.get("name")}
    told = {each.values["registration"] for each in batch if each.values.get("registration")}
    near = Vessel.objects.filter(Q(name__in=names) | Q(registration__in=told))
    found = list(near.values_list("pk", "name", "harbor", "registration"))
    places = {(name, harbor): pk for pk, name, harbor, __ in found}
    return places, {number: pk for pk, *__, number in found if number}
