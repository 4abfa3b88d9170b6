"""
Readings near a limit, as near on the one side as on the other.

Each is a rig that is sound in all else, together with what a person with a tape and a
gauge would note of it.
"""

from typing import NamedTuple

from . import faults, sample
from .gear import Rig
from .judge import judge
from .measures import MEASURES


class Near(NamedTuple):
    """A rig, and what was noted of it as ``lines`` of text: the facts to judge by."""

    rig: Rig
    lines: tuple[str, ...]


def keys(rulebook):
    """Return the keys of the law's gear requirements that a reading can break or keep."""
    return tuple(key for key in faults.spoilable(rulebook) if not MEASURES[key].trip)


def rig(rng, rulebook, key, broken, level):
    """Return a Rig whose reading of ``key`` lies at the ``level``'s distance from its limit."""
    return draw(rng, rulebook, key, broken, level).rig


def draw(rng, rulebook, key, broken, level):
    """
    Return a Near: a rig that breaks or keeps the requirement ``key``, and what is noted of it.

    ``rng`` is a random.Random, ``level`` from 1, far from the limit, to 3, a near miss.
    Raise KeyError if ``rulebook`` has no such requirement.
    """
    requirement = rulebook.requirement(key)
    while True:
        made = sample.legal_rig(rng, rulebook, level)
        if not requirement.applies_to(made, None):
            continue
        try:
            made = faults.spoil(made, key, rng, rulebook, level) if broken else made
        except faults.CannotSpoil:
            continue
        text = judge(made, rulebook).finding(key).measured_text
        return Near(made, (text[0].upper() + text[1:],))
