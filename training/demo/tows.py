"""Made-up paired tows of the demo's fishermen, and what they chose about who sees them."""

import random
import uuid
from datetime import timedelta

from rigs.words.units import pounds
from training.evidence.models import PairedCatch, PairedTows
from training.people.sharing import Level, What, choose
from training.register.models import Crew, Vessel

from . import scenario

OWNERS = 20
PAIRS_EACH = (1, 4)

# All invented: kg in a tow with the sweep, and what share of it comes without.
CATCHES = {
    "hake": (380, 0.96),
    "flatfish": (34, 0.31),
    "lobster": (9, 0.35),
    "skate": (26, 0.42),
    "squid": (18, 1.02),
}
SPREAD = 0.35  # of the logarithm from pair to pair


def load(fishermen, season):
    """
    Give some of the ``fishermen`` pairs of tows in the ``season``, (first, last) day.

    One in five keeps his own to himself, two let them be counted, two show them.
    """
    rng = random.Random(f"{scenario.SEED} tows")
    levels = [Level.OWN, Level.SUMS, Level.SUMS, Level.STAFF, Level.STAFF]
    for number, person in enumerate(fishermen[:OWNERS]):
        choose(person, What.CATCHES, levels[number % len(levels)])
        vessel = _vessel_of(person, season[0], rng)
        for _ in range(rng.randint(*PAIRS_EACH)):
            _pair(person, vessel, season, rng)


def _vessel_of(person, since, rng):
    """Return the vessel that ``person`` fishes on, or one of the harbor ``since`` that day."""
    berth = person.berths.filter(until=None).select_related("vessel").first()
    if berth is not None:
        return berth.vessel
    harbor = person.memberships.first().group.harbor
    vessel = rng.choice(list(Vessel.objects.filter(harbor=harbor).order_by("pk")))
    Crew.objects.create(vessel=vessel, user=person, since=since)
    return vessel


def _pair(person, vessel, season, rng):
    first, last = season
    day = first + timedelta(days=rng.randint(0, (last - first).days))
    pair = PairedTows.objects.create(
        key=uuid.UUID(int=rng.getrandbits(128), version=4),
        owner=person,
        vessel=vessel,
        day=day,
        is_demo=True,
    )
    for group, (usual, share) in CATCHES.items():
        with_sweep = usual * rng.lognormvariate(0, SPREAD)
        without = with_sweep * share * rng.lognormvariate(0, SPREAD)
        PairedCatch.objects.create(
            pair=pair,
            group=group,
            without_sweep=without,
            with_sweep=with_sweep,
            typed={"without": pounds(without), "with": pounds(with_sweep)},
        )
