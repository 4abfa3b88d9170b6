"""Made-up paired tows for the tests of the evidence."""

import uuid
from datetime import date

from tests.register.events_factory import make_vessel
from training.evidence.models import PairedCatch, PairedTows
from training.people.models import User
from training.people.sharing import Level, What, choose
from training.register.models import Crew


def make_fisherman(number, level=None, harbor="Kettle Harbor"):
    """Return a person with a vessel, who chose ``level`` for the catches if one is given."""
    person = User.objects.create_user(f"hand{number}@example.com", name=f"Hand {number}")
    vessel = make_vessel(f"Vessel {number}", harbor)
    Crew.objects.create(vessel=vessel, user=person, since=date(2025, 1, 1))
    if level is not None:
        choose(person, What.CATCHES, level)
    return person


def make_pair(owner, day=date(2026, 7, 1), **catches):
    """Return a pair of ``owner``; ``catches`` are (without, with) in kg by group."""
    berth = owner.berths.first()
    pair = PairedTows.objects.create(
        key=uuid.uuid4(), owner=owner, vessel=berth and berth.vessel, day=day
    )
    for group, (without, with_sweep) in catches.items():
        PairedCatch.objects.create(
            pair=pair, group=group, without_sweep=without, with_sweep=with_sweep
        )
    return pair


def make_fleet(level=Level.SUMS, owners=8, pairs=2, first=0):
    """Make fishermen who each made ``pairs`` pairs with flatfish and hake; return them."""
    people = [make_fisherman(first + number, level) for number in range(owners)]
    for number, person in enumerate(people, 1):
        for day in range(1, pairs + 1):
            make_pair(
                person,
                date(2026, 7, day),
                flatfish=(10.0 + number, 40.0 + 3 * day),
                hake=(400.0 + 7 * number, 410.0 + 5 * day),
            )
    return people


def entries(**changes):
    """Return what a browser posts for a pair, changed as told."""
    told = {
        "key": str(uuid.uuid4()),
        "day": "2026-07-01",
        "hake_with": "900 lb",
        "hake_without": "400 kg",
        "flatfish_with": "80",
        "flatfish_without": "0",
    }
    return told | changes
