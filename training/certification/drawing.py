"""
One form of an exam, drawn from a seed.

Forms are parallel: all hold the same Slots. A form draws the seeds of its questions, which
side of its limit each reading lies, and the places of the questions.
"""

import random
from dataclasses import replace
from typing import NamedTuple

from rigs.rules import rulebook
from training.exercises import kinds
from training.exercises.handing import SEEDS
from training.exercises.kinds.one_reading import BROKEN, MET

from .spread import LAST, READING, Slot

ALL_ALIKE = 0.25
"""How often all readings of one rule on a form are broken, and how often all are met; the sizes
that are offered of it lean the same way then."""
TRIES = 40
"""Seeds that are tried for a question unlike all others before one is asked again."""


class Spec(NamedTuple):
    """A Slot with the seed that fills it on one form, and the side of a reading, else empty."""

    slot: Slot
    seed: int
    side: str = ""

    @property
    def focus(self):
        """What the kind is given as its focus."""
        return (*self.slot.focus, self.side) if self.side else self.slot.focus


def lean(rng):
    """
    Return to which side all that a form asks of one rule leans: BROKEN, MET, or "" for neither.

    Each as often as ALL_ALIKE says. Were it by coins alone, the middle of all that is shown of
    a rule would be near its limit, and who puts it in order and splits it there would have
    most of it right without the rule.
    """
    lot = rng.random()
    if lot < ALL_ALIKE:
        return BROKEN
    return MET if lot < 2 * ALL_ALIKE else ""


def sides(count, rng, leaning=None):
    """
    Return which side of its limit each of ``count`` readings of one rule lies.

    Each is broken as often as met. Whether all are, none or some is not to be known: it goes
    by ``leaning``, drawn by ``lean`` unless it is given.
    """
    leaning = lean(rng) if leaning is None else leaning
    if leaning:
        return [leaning] * count
    return [rng.choice((BROKEN, MET)) for _ in range(count)]


def leans(task, leaning):
    """Return whether the sizes that ``task`` of the kind LAST offers lean to that side."""
    met = sum(not each.finding.failed for each in task.options)
    return {BROKEN: met <= 1, MET: met >= len(task.options) - 1}.get(leaning, True)


def draw(slots, seed, on):
    """
    Return the Specs of the form that the text ``seed`` makes of ``slots`` on the date ``on``.

    The readings come first, then the other kinds in the order of ``slots``; within each the
    places are shuffled, so that neither rule nor side can be told from the place. No two
    questions are alike as long as there are others.
    """
    rng = random.Random(seed)
    by_rule, order, leaning = {}, {}, {}
    for slot in slots:
        order.setdefault(slot.kind, [])
        by_rule.setdefault((slot.kind, slot.focus), []).append(slot)
    for (kind, focus), of_rule in by_rule.items():
        if focus and focus not in leaning:
            leaning[focus] = lean(rng)
        drawn = [""] * len(of_rule)
        if kind == READING:
            drawn = sides(len(of_rule), rng, leaning[focus])
        order[kind] += zip(of_rule, drawn, strict=True)
    books = {slot.rulebook: rulebook.in_force(slot.rulebook, on) for slot in slots}
    seen = set()
    form = []
    for pairs in order.values():
        rng.shuffle(pairs)
        for slot, side in pairs:
            wanted = leaning[slot.focus] if slot.kind == LAST else ""
            form.append(_unlike(Spec(slot, 0, side), wanted, books[slot.rulebook], rng, seen))
    return tuple(form)


def _unlike(spec, leaning, book, rng, seen):
    """Return ``spec`` with a seed whose task is like none in ``seen``, and add it to them."""
    slot, kind = spec.slot, kinds.get(spec.slot.kind)
    # Where too few of a rule lean that way, one unlike the others comes before one that leans.
    for wanted in dict.fromkeys((leaning, "")):
        for _ in range(TRIES):
            spec = spec._replace(seed=rng.randrange(SEEDS))
            task = kind.generate(spec.seed, book, slot.difficulty, spec.focus)
            look = looks(task)
            if look not in seen and (not wanted or leans(task, wanted)):
                seen.add(look)
                return spec
    return spec


def looks(task):
    """Return what tells ``task`` from others for whoever reads it, whatever seed it has."""
    if hasattr(task, "reading"):
        return task.requirement.key, task.reading
    return repr(replace(task, seed=0))
