"""
One form of an exam, drawn from a seed.

Forms are parallel: all hold the same Slots. A form draws the seeds of its questions, which
side of its limit each reading lies, and the places of the questions.
"""

import random
from dataclasses import replace
from typing import NamedTuple

from rigs import rulebook
from training.exercises import kinds
from training.exercises.handing import SEEDS
from training.exercises.kinds.one_reading import BROKEN, MET

from .spread import READING, Slot

ALL_ALIKE = 0.25
"""How often all readings of one rule on a form are broken, and how often all are met."""
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


def sides(count, rng):
    """
    Return which side of its limit each of ``count`` readings of one rule lies.

    Each is broken as often as met. Whether all are, none or some is not to be known: by
    coins alone the middle of one's readings would be near the limit, and who puts them in
    order and splits them there would have most of them right without the rule.
    """
    lot = rng.random()
    if lot < ALL_ALIKE:
        return [BROKEN] * count
    if lot < 2 * ALL_ALIKE:
        return [MET] * count
    return [rng.choice((BROKEN, MET)) for _ in range(count)]


def draw(slots, seed, on):
    """
    Return the Specs of the form that the text ``seed`` makes of ``slots`` on the date ``on``.

    The readings come first, then the other kinds in the order of ``slots``; within each the
    places are shuffled, so that neither rule nor side can be told from the place. No two
    questions are alike as long as there are others.
    """
    rng = random.Random(seed)
    by_rule, order = {}, {}
    for slot in slots:
        order.setdefault(slot.kind, [])
        by_rule.setdefault((slot.kind, slot.focus), []).append(slot)
    for (kind, _), of_rule in by_rule.items():
        drawn = sides(len(of_rule), rng) if kind == READING else [""] * len(of_rule)
        order[kind] += zip(of_rule, drawn, strict=True)
    books = {slot.rulebook: rulebook.in_force(slot.rulebook, on) for slot in slots}
    seen = set()
    form = []
    for pairs in order.values():
        rng.shuffle(pairs)
        form += [_unlike(slot, side, books[slot.rulebook], rng, seen) for slot, side in pairs]
    return tuple(form)


def _unlike(slot, side, book, rng, seen):
    """Return a Spec of ``slot`` whose task is like none in ``seen``, and add it to them."""
    kind = kinds.get(slot.kind)
    for _ in range(TRIES):
        spec = Spec(slot, rng.randrange(SEEDS), side)
        look = looks(kind.generate(spec.seed, book, slot.difficulty, spec.focus))
        if look not in seen:
            break
    seen.add(look)
    return spec


def looks(task):
    """Return what tells ``task`` from others for whoever reads it, whatever seed it has."""
    if hasattr(task, "reading"):
        return task.requirement.key, task.reading
    return repr(replace(task, seed=0))
