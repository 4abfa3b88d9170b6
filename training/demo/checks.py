"""Check sheets for the demo: invented officers at invented vessels, judged for real."""

import uuid
from contextlib import suppress
from datetime import datetime, time

from django.utils import timezone

from rigs.check import written
from rigs.make import faults, sample
from rigs.rules import rulebook
from training.checks import keeping

FAULTY = 0.4  # the share of rigs with something outside a clause


def _typed(rng, book):
    """Return what an officer wrote about a rig drawn at random, with gaps now and then."""
    rig = sample.legal_rig(rng, book, rng.randint(1, 3))
    if rng.random() < FAULTY:
        with suppress(faults.CannotMake):  # then this rig is sound
            rig = faults.spoil(rig, rng.choice(faults.spoilable(book, rig)), faults.Draw(rng, book))
    typed = written.typed(rig)
    for name in rng.sample(sorted(typed), rng.choice((0, 0, 1, 3))):
        del typed[name]
    return typed


def load(officers, vessels, day, rng, each=3):
    """
    Make ``each`` sheets for every one of ``officers``, handed in by the date ``day``.

    ``vessels`` are (name, harbor) pairs.
    """
    for officer in officers:
        for name, harbor in rng.sample(vessels, each):
            book = rng.choice(rulebook.gear_books(day))
            content = {
                "vessel_name": name,
                "harbor": harbor,
                "position": "",
                "day": day,
                "rulebook_name": book.name,
                "typed": _typed(rng, book),
                "notes": "",
                "photo_keys": [],
            }
            key = uuid.UUID(int=rng.getrandbits(128), version=4)
            sheet = keeping.keep(officer, key, keeping.SITE, 1, content, True)
            done = datetime.combine(day, time(15), timezone.get_current_timezone())
            sheet.finished = sheet.created = done
            sheet.save(update_fields=["finished", "created"])
