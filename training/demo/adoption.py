"""Two seasons of what the demo's vessels went through: invented, from a seed of its own."""

import random
from datetime import timedelta

from django.utils import timezone

from training.people.models import Role
from training.register import uptake
from training.register.deriving import derive_all
from training.register.models import AdoptionEvent, Crew, Vessel
from training.register.stages import Known, Stage

from . import scenario

# A seed of its own, so that the people and their answers stay as they are.
SEED = scenario.SEED + 1
REGISTRATIONS_FROM = 1041
FISHES_HERE = 0.8  # of the trainees, on a vessel of their harbor
TOLD, CONVERTS, GOES_BACK = 0.9, 0.45, 0.2


def load(users, seasons):
    """
    Give the vessels owners, captains, numbers and crews, and have them take up the rig.

    ``users`` are the demo's people by role, ``seasons`` pairs of first and last days. What
    follows from certificates and crews is derived as on any site.
    """
    rng = random.Random(SEED)
    vessels = list(Vessel.objects.filter(is_demo=True).order_by("pk"))
    _name(vessels, users, rng)
    _man(vessels, users[Role.TRAINEE], rng)
    happened = [
        event
        for vessel in vessels
        for event in _history(vessel, users[Role.STAFF][0], seasons, rng)
    ]
    AdoptionEvent.objects.bulk_create(happened)
    derive_all()
    uptake.rebuild()


def _name(vessels, users, rng):
    taken = {user.name for people in users.values() for user in people}
    every = scenario.names(rng, len(taken) + 2 * len(vessels))
    names = iter([name for name in every if name not in taken])
    for number, vessel in enumerate(vessels, REGISTRATIONS_FROM):
        vessel.registration = f"TS {number}"
        vessel.owner = next(names)
        # Many owners run their vessel themselves.
        vessel.captain = vessel.owner if rng.random() < 0.6 else next(names)
    Vessel.objects.bulk_update(vessels, ["registration", "owner", "captain"])


def _man(vessels, trainees, rng):
    """Put most of the trainees on a vessel of their harbor."""
    crew = []
    for index, user in enumerate(trainees):
        # Trainees are in the groups of the harbors by turns.
        harbor = scenario.HARBOURS[index % len(scenario.HARBOURS)]
        there = [vessel for vessel in vessels if vessel.harbor == harbor]
        vessel, fishes = rng.choice(there), rng.random() < FISHES_HERE
        if fishes:
            since = timezone.localdate(user.joined)
            part = rng.choices(Crew.Part.values, weights=[1, 2, 5])[0]
            crew.append(Crew(vessel=vessel, user=user, part=part, since=since))
    _agree(crew)
    Crew.objects.bulk_create(crew)


def _agree(crew):
    """
    Leave each vessel one captain, whom the register names too.

    One keeps two of them, and one a captain whom the register does not name: for staff to find.
    """
    captains = {}
    for berth in crew:
        if berth.part == Crew.Part.CAPTAIN:
            captains.setdefault(berth.vessel, []).append(berth)
    doubled = [vessel for vessel, berths in captains.items() if len(berths) > 1][-1:]
    for vessel, (captain, *others) in captains.items():
        vessel.captain = captain.user.name
        for berth in others if vessel not in doubled else others[1:]:
            berth.part = Crew.Part.CREW
    named = list(captains)[:-1]
    Vessel.objects.bulk_update(named, ["captain"])


def _history(vessel, staff, seasons, rng):
    """Yield what staff heard of ``vessel``."""
    first, last = rng.choice(seasons)
    day = first + timedelta(rng.randint(0, (last - first).days // 3))
    if rng.random() > TOLD:
        return
    yield _event(vessel, Stage.TOLD, day, staff)
    if rng.random() > CONVERTS:
        return
    day += timedelta(rng.randint(20, 70))
    if rng.random() < 0.5:
        yield _event(vessel, Stage.CHECKED, day, staff)
        day += timedelta(rng.randint(2, 10))
    yield _event(vessel, Stage.CONVERTED, day, staff)
    if rng.random() < GOES_BACK and day + timedelta(8) < last:
        day += timedelta(rng.randint(7, (last - day).days))
        yield _event(vessel, Stage.BACK, day, staff)


def _event(vessel, stage, day, staff):
    key = f"demo:{vessel.pk}:{stage}"
    return AdoptionEvent(vessel=vessel, stage=stage, day=day, by=staff, known=Known.HAND, key=key)
