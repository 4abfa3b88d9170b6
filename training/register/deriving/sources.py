"""What the records of the site say about the stages of vessels."""

from datetime import date
from typing import NamedTuple

from django.db.models import Exists, OuterRef
from django.db.models.functions import Lower
from django.utils import timezone

from rigs.check.unswept import forbids_sweep, seen_without_sweep
from training.certification.certificates import all_taken_back
from training.certification.models import Certificate
from training.checks.models import CheckSheet
from training.nets.models import Net, Rigging
from training.people.sharing import Level, What, sharers

from ..harbors import plain, spellings
from ..models import Crew, Removal, Vessel
from ..stages import Known, Stage
from ..table.entries import plain_place, plain_registration


class Derived(NamedTuple):
    """An event that should stand for a vessel, by its number."""

    vessel: int
    stage: str
    day: date
    known: str


def _day(moment):
    return timezone.localdate(moment)


def wanted(vessels):
    """
    Return the events that should stand for ``vessels``, a list: Derived by key.

    A few queries, however many they are.
    """
    berths = list(
        Crew.objects.filter(vessel__in=vessels).select_related("user").order_by("since", "pk")
    )
    found = {}
    for source in (_signed_up, _certified, _planned, _rigged):
        for key, vessel, stage, day, known in source(berths):
            if key not in found or day < found[key].day:
                found[key] = Derived(vessel, stage, day, known)
    return found | _checked(vessels)


def _meets(berth, day):
    """Return the first day of ``berth`` on or after ``day``; None if it was over by then."""
    day = max(day, berth.since)
    return None if berth.until is not None and berth.until < day else day


def _signed_up(berths):
    """Yield that somebody with an account fishes on a vessel: its crew is in training."""
    for berth in berths:
        if day := _meets(berth, _day(berth.user.joined)):
            key = f"crew:{berth.pk}:vessel:{berth.vessel_id}"
            yield key, berth.vessel_id, Stage.TRAINING, day, Known.CREW


def _by_person(berths):
    found = {}
    for berth in berths:
        found.setdefault(berth.user_id, []).append(berth)
    return found


def _certified(berths):
    """Yield the certificates that held on a day on which their holder fished on a vessel."""
    people = _by_person(berths)
    certificates = Certificate.objects.filter(exam__user__in=people).exclude(
        pk__in=all_taken_back().values("pk")
    )
    for pk, person, issued, expires in certificates.values_list(
        "pk", "exam__user", "issued", "expires"
    ):
        for berth in people[person]:
            day = _meets(berth, _day(issued))
            if day and day < _day(expires):
                key = f"certificate:{pk}:vessel:{berth.vessel_id}"
                yield key, berth.vessel_id, Stage.CREWED, day, Known.CERTIFICATE


def _of_sharers(people, nets):
    """Return those of ``nets``, a queryset, whose owners are of ``people`` and let them count."""
    sharing = sharers(What.NETS, [Level.SUMS, Level.STAFF]).filter(pk__in=people)
    return nets.there().filter(owner__in=sharing.values("pk")).order_by()


def _planned(berths):
    """Yield the nets of people who let them be counted."""
    people = _by_person(berths)
    nets = _of_sharers(people, Net.objects)
    for pk, owner, created in nets.values_list("pk", "owner", "created"):
        for berth in people[owner]:
            if day := _meets(berth, _day(created)):
                key = f"net:{pk}:vessel:{berth.vessel_id}"
                yield key, berth.vessel_id, Stage.PLANNED, day, Known.PLAN


def _rigged(berths):
    """
    Yield the nets that their owners said were rigged, on the vessel they fished on that day.

    A net does not count for a vessel that its owner came to later: it may have stayed behind.
    """
    people = _by_person(berths)
    nets = _of_sharers(people, Net.objects)
    riggings = Rigging.objects.there().filter(net__in=nets.values("pk"))
    for pk, owner, day in riggings.order_by().values_list("pk", "net__owner", "day"):
        for berth in people[owner]:
            if _meets(berth, day) == day:
                key = f"rigging:{pk}:vessel:{berth.vessel_id}"
                yield key, berth.vessel_id, Stage.RIGGED, day, Known.RIGGED


def _checked(vessels):
    """
    Return what finished check sheets say that name one of ``vessels``.

    One says that the rig was checked if it found nothing outside and saw that there is no
    sweep, by a rule set that forbids one. Much of the rest may not have been measured.
    """
    names = names_of(vessels)
    named = {}
    for pk, *told, __ in _sheets(outside=0):
        vessel = names.meant(*told)
        if vessel is not None:
            named[pk] = vessel
    sheets = CheckSheet.objects.prefetch_related("readings").in_bulk(named)
    return {
        f"sheet:{pk}:vessel:{named[pk]}": Derived(named[pk], Stage.CHECKED, sheet.day, Known.SHEET)
        for pk, sheet in sheets.items()
        if _is_without_sweep(sheet)
    }


def _is_without_sweep(sheet):
    return forbids_sweep(sheet.rulebook) and seen_without_sweep(sheet.verdict.passed, sheet.told)


def _sheets(**which):
    sheets = CheckSheet.objects.finished().filter(**which).order_by("pk")
    return sheets.values_list("pk", *NAMING, "day")


class Names(NamedTuple):
    """
    The numbers of vessels by name and harbor, and by registration, each as ``plain_``.

    ``harbors`` are their names by each way to write one.
    """

    place: dict
    number: dict
    harbors: dict

    def meant(self, name, harbor, painted):
        """
        Return the number of the vessel that a sheet is about, None if it is none of these.

        ``painted`` is the registration as seen on the hull, which may stand for a name too.
        """
        numbers = (self.number.get(plain_registration(each or "")) for each in (painted, name))
        by_number = next((each for each in numbers if each is not None), None)
        harbor = self.harbors.get(plain(harbor), harbor)
        return self.place.get(plain_place(name, harbor), by_number)


NAMING = ("vessel_name", "harbor", "head__vessel_number")
"""What of a sheet says which vessel it is about, as Names.meant takes it."""


def names_of(vessels):
    """Return the Names of ``vessels``: those of vessels merged into one stand for it too."""
    vessels = list(vessels)
    numbers = {each.pk for each in vessels}
    place, number = {}, {}
    for pk, *told in (*_merged(numbers), *((each.pk, *_named(each)) for each in vessels)):
        place[plain_place(*told[:2])] = pk
        number[plain_registration(told[2])] = pk
    number.pop("", None)
    return Names(place, number, spellings())


def to_name(vessels):
    """Return what ``names_of`` needs of ``vessels``, a queryset, and no more."""
    return vessels.values_list("pk", "name", "harbor", "registration", named=True)


def _named(vessel):
    return vessel.name, vessel.harbor, vessel.registration


def _merged(numbers):
    """Yield (number, name, harbor, registration) of what was merged into one of ``numbers``."""
    rows = Removal.objects.filter(undone=None, into__isnull=False).values_list(
        "vessel", "into", "vessel__name", "vessel__harbor", "vessel__registration"
    )
    into = {pk: other for pk, other, *__ in rows}
    taken = _taken([name for __, ___, name, *____ in rows])
    for __, other, *told in rows:
        while other in into:
            other = into[other]
        if other in numbers and plain_place(*told[:2]) not in taken:
            yield other, *told


def _taken(names):
    """Return the places, as ``plain_place``, of vessels on the register that have such a name."""
    lower = [name.lower() for name in names]
    named = Vessel.objects.alias(lower=Lower("name")).filter(lower__in=lower) if lower else []
    return {plain_place(each.name, each.harbor) for each in named}


def named_in(sheet):
    """Return the numbers of the vessels that ``sheet`` may be about, merged ones among them."""
    vessels = Vessel.every.all()
    seen = {plain_registration(sheet.vessel_name)}
    seen.add(plain_registration(sheet.head.get("vessel_number") or ""))
    registered = vessels.exclude(registration="").order_by().values_list("pk", "registration")
    found = {pk for pk, number in registered if plain_registration(number) in seen}
    by_name = vessels.filter(name__iexact=sheet.vessel_name.strip())
    found |= set(by_name.values_list("pk", flat=True))
    taken_in = Vessel.every.filter(taken_in__undone=None, taken_in__vessel__in=found)
    return found | set(taken_in.values_list("pk", flat=True))


def unmatched():
    """Return the numbers of the finished check sheets that name no vessel of the register."""
    sheets = CheckSheet.objects.finished().exclude(Exists(_named_alike())).order_by()
    told = list(sheets.values_list("pk", *NAMING))
    if not told:
        return []
    names = names_of(to_name(Vessel.objects.order_by()))
    return [pk for pk, *named in told if names.meant(*named) is None]


def _named_alike():
    """
    Return the vessels to the letter named as a sheet has them: most are, and the database tells.

    Of harbors alone whose name means themselves, as ``Names.meant`` has it.
    """
    known = spellings()
    own = [name for name in set(known.values()) if known.get(plain(name)) == name]
    return Vessel.objects.filter(
        name=OuterRef("vessel_name"), harbor=OuterRef("harbor"), harbor__in=own
    )
