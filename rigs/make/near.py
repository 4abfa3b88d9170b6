"""
Readings near a limit, as near on the one side as on the other.

Each is a rig that is sound in all else, and with it what a person with a tape and a gauge would
note of it: enough to judge by, and not what comes of it. Each requirement has its own way to
such a reading, and its scale says how near is near.
"""

from random import Random
from typing import NamedTuple

from rigs import requirements
from rigs.requirements.making import CannotMake
from rigs.rules.judge import judge
from rigs.rules.rulebook import Requirement, Rulebook
from rigs.words.gear import Rig

from . import sample
from .faults import Draw

_TRIES = 200


class Near(NamedTuple):
    """A rig, and what was noted of it as ``lines``, each a sentence: the facts to judge by."""

    rig: Rig
    lines: tuple[str, ...]


def keys(rulebook: Rulebook) -> tuple[str, ...]:
    """Return the keys of the law's gear requirements that a reading can break or keep."""
    return tuple(r.key for r in rulebook.requirements if r.binds and r.measure.can("near"))


def about(requirement: Requirement) -> str:
    """Return what a reading of ``requirement`` is about, without its rule."""
    return requirement.measure.about or requirement.title


def follows(key: str) -> frozenset[str]:
    """
    Return the keys of the rules that can be broken along with ``key``, since sizes hang together.

    A sweep that is short in all is short on a side too, and at that wing end.
    """
    return requirements.find(key).follows


def span(requirement: Requirement, level: int) -> tuple[float, float] | None:
    """
    Return the least and the most, SI, by which a reading of ``requirement`` misses its limit.

    None for what is not measured but looked at.
    """
    scale = requirement.measure.scale
    return None if scale is None else scale.span(requirement, level)


def rig(rng: Random, rulebook: Rulebook, key: str, broken: bool, level: int) -> Rig:
    """Return a Rig whose reading of ``key`` lies at the ``level``'s distance from its limit."""
    return draw(rng, rulebook, key, broken, level).rig


def draw(rng: Random, rulebook: Rulebook, key: str, broken: bool, level: int) -> Near:
    """
    Return a Near: a rig that breaks or keeps the requirement ``key``, and what is noted of it.

    ``rng`` is a random.Random, ``level`` from 1, far from the limit, to 3, a near miss. All
    other requirements are met, by custom too, but those that ``follows`` names. Raise
    KeyError if ``rulebook`` has no such requirement, and CannotMake if no such rig comes
    about.
    """
    requirement, drawn = rulebook.requirement(key), Draw(rng, rulebook, level)
    for _ in range(_TRIES):
        sound = sample.legal_rig(rng, rulebook, level)
        made = requirement.measure.near(drawn.making(sound, key, broken))
        if made is not None and _is_as_asked(made[0], requirement, broken, rulebook):
            return Near(*made)
    raise CannotMake(key)


def _is_as_asked(rig: Rig, requirement: Requirement, broken: bool, rulebook: Rulebook) -> bool:
    missed = judge(rig, rulebook).missed_keys
    if not broken:
        return not missed and requirement.applies_to(rig, None)
    return requirement.key in missed and missed <= {requirement.key} | follows(requirement.key)
