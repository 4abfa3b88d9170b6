"""Check sheets for the demo: invented officers at invented vessels, judged for real."""

import random
import uuid
from contextlib import suppress
from datetime import datetime, time, timedelta

from django.utils import timezone

from rigs.check import whole, written
from rigs.check.steps import QUESTIONS
from rigs.make import faults, sample
from rigs.requirements.questions import LENGTH, MEASURED, TOLD
from rigs.rules import rulebook
from training.checks import keeping, logbook

FAULTY = 0.4  # the share of rigs with something outside a clause
STRUCK, SECOND = 0.3, 0.3  # of sheets: one reading was changed, one was read twice
BEGUN, DONE = time(7, 30), time(15)
APART = timedelta(seconds=70)  # between two readings
POSITION = "42 14.05 N 70 08.80 W"

# Invented, as all here: a line in waves, in the units of the field for signatures.
SIGNATURE = [
    [[60 + 40 * n, 150 + (70 if n % 2 else -60)] for n in range(20)],
    [[80, 240], [860, 210]],
]


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


def _moment(day, at):
    return datetime.combine(day, at, timezone.get_current_timezone())


class _Log:
    """The readings of one sheet, an invented minute after each other."""

    def __init__(self, rng, day):
        self.rng, self.at, self.entries = rng, _moment(day, BEGUN), []

    def add(self, name, text, **changes):
        """Add a reading of ``name`` and return it."""
        self.at += APART
        told = {"id": f"{self.rng.getrandbits(64):016x}", "name": name, "text": text}
        told |= {"how": MEASURED, "tool": next(iter(QUESTIONS[name].tools), "")}
        told |= {"at": self.at.isoformat(), "struck": "", "why": ""} | changes
        self.entries.append(told)
        return told

    def write(self, typed):
        """Write down ``typed``: now and then one reading struck, one made twice, one only said."""
        names = [name for name in QUESTIONS if typed.get(name)]
        lengths = [name for name in names if QUESTIONS[name].sort == LENGTH]
        odd = self.rng.sample(lengths, min(3, len(lengths)))
        struck, twice, said = (*odd, *[None] * 3)[:3]
        struck = struck if self.rng.random() < STRUCK else None
        twice = twice if self.rng.random() < SECOND else None
        for name in names:
            if name == struck:
                wrong = self.add(name, "1 ft")
                wrong |= {"struck": (self.at + APART / 2).isoformat(), "why": "Tape was caught."}
            if name == said:
                self.add(name, typed[name], how=TOLD, tool="skipper")
            else:
                self.add(name, typed[name])
            if name == twice:
                self.add(name, typed[name])
        return self


def _head(rng, officer, harbor):
    initials = "".join(word[0] for word in harbor.split())
    return {
        "vessel_number": f"{initials} {rng.randint(100, 999)}",
        "skipper": f"Skipper {rng.choice('ABCDEFGH')}.",
        "tape": str(officer),
        "started": BEGUN.strftime("%H:%M"),
        "ended": "08:40",
        "wet": rng.choice(("wet", "dry")),
    }


def _content(rng, officer, vessel, day, typed):
    """Return the content of a save about ``vessel``, a (name, harbor), beside its rule set."""
    name, harbor = vessel
    missing = [each for each in QUESTIONS if each not in typed]
    return {
        "vessel_name": name,
        "harbor": harbor,
        "position": "",
        "day": day,
        "typed": typed,
        "readings": _Log(rng, day).write(typed).entries,
        "reasons": dict.fromkeys(missing[:1], "could not be reached"),
        "head": _head(rng, officer, harbor),
        "notes": "",
        "photo_keys": [],
        "signatures": [
            {
                "role": "skipper",
                "name": "",
                "at": _moment(day, time(8, 41)).isoformat(),
                "strokes": SIGNATURE,
                "refused": False,
            }
        ],
    }


def _dated(sheet, day):
    """Have all of ``sheet`` reach the site in the afternoon of ``day``."""
    done = _moment(day, DONE)
    sheet.readings.update(arrived=done)
    sheet.revisions.update(received=done)
    sheet.created = done
    sheet.finished = sheet.finished and done
    sheet.save(update_fields=["finished", "created"])


def load(officers, vessels, day, rng, each=3):
    """
    Make ``each`` sheets for every one of ``officers``, handed in by the date ``day``.

    ``vessels`` are (name, harbor) pairs. The first officer's last sheet is made a boarding
    of two nets with a fishery and a correction, and one more sheet of his is begun.
    """
    first = None
    for officer in officers:
        for vessel in rng.sample(vessels, each):
            book = rng.choice(rulebook.gear_books(day))
            typed = _typed(rng, book)
            key = uuid.UUID(int=rng.getrandbits(128), version=4)
            # What stands beside the answers is drawn apart, so that the rigs stay as they are.
            content = _content(random.Random(key.int), officer, vessel, day, typed)
            content |= {"rulebook_name": book.name}
            sheet = keeping.keep(officer, key, keeping.SITE, 1, content, True)
            _dated(sheet, day)
        first = first or sheet
    _add_special(first, day)


def _fishery(sheet):
    """Return the name of a fishery that goes with the gear of ``sheet``, "" if there is none."""
    found = whole.fisheries_with(sheet.rulebook_name, sheet.day)
    return found[0].name if found else ""


def _add_special(sheet, day):
    """Add to ``sheet`` what few sheets have: a second net, a correction, one only begun."""
    rng = random.Random(sheet.key.int + 1)
    second = keeping.another_net(sheet, uuid.UUID(int=rng.getrandbits(128), version=4))
    log = _Log(rng, day).write(sheet.typed).entries
    more = {"head": second.head | {"net": "Net 2"}, "typed": sheet.typed, "readings": log}
    more |= {"at_sea": True, "position": POSITION, "fishery_name": _fishery(sheet)}
    second = keeping.change(second, hands_in=True, **more)
    _dated(second, day)
    name, text = next((n, t) for n, t in sheet.typed.items() if QUESTIONS.get(n))
    entries = logbook.answered(sheet.log, name, text, MEASURED, "calipers", why="Other instrument.")
    at_the_rail = {entry.id for entry in sheet.log}
    readings = [
        entry._asdict() if entry.id in at_the_rail else entry._replace(at="")._asdict()
        for entry in entries
    ]
    keeping.change(sheet, reason="The instrument was entered wrong.", readings=readings)
    begun = keeping.another_net(sheet, uuid.UUID(int=rng.getrandbits(128), version=4))
    keeping.change(begun, boarding="", head={"net": "Net 3"})
