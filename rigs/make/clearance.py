"""
Rigs whose measures keep off their limits, on either side, by more than a drawing can hide.

On a drawing nobody can tell a gap at the limit from one a hair over it. Here ``room``
maps keys of requirements to the metres by which every reading has to miss its limit.
"""

from collections.abc import Mapping
from random import Random

from rigs.requirements import droppers_hung, floats, ropes, sweep, wires
from rigs.requirements.sizing import Sizing
from rigs.rules.judge import judge
from rigs.rules.rulebook import Requirement, Rulebook
from rigs.words.gear import Rig
from rigs.words.units import ROUNDING

from . import sample

_PARTS = (ropes, droppers_hung, floats, wires, sweep)


def stands_clear(rig: Rig, rulebook: Rulebook, room: Mapping[str, float]) -> bool:
    """
    Return whether each reading of ``rig`` lies off its limit by as much as ``room`` says.

    Where no difference at all is allowed, none at all stands clear as well.
    """
    return all(
        _is_clear(value, rulebook.requirement(key), least)
        for key, least in room.items()
        if rulebook.has(key)
        for value in _values(rig, rulebook.requirement(key))
    )


def _values(rig: Rig, requirement: Requirement) -> list[float]:
    values, _ = requirement.read(rig) or ((), ())
    return [value for value in values if value is not None]


def _is_clear(value: float, requirement: Requirement, least: float) -> bool:
    if requirement.limit == 0 and requirement.test == "at most" and value <= ROUNDING:
        return True
    return bool(abs(value - requirement.limit) >= least - ROUNDING)


def roomy_rig(
    rng: Random,
    rulebook: Rulebook,
    room: Mapping[str, float] | None = None,
    difficulty: int = 1,
) -> Rig:
    """
    Return a Rig that ``rulebook`` passes in every requirement, clear of its limits.

    ``rng`` is a random.Random, ``room`` is as above, nothing unless it is given; it must
    leave something between the sizes that are sold, or none would ever be found. How the
    parts are sized says nothing of where their limits are.
    """
    sizing = Sizing(rng, rulebook, difficulty)
    while True:
        rig = sample.legal_rig(rng, rulebook, difficulty)
        for part in _PARTS:
            rig = part.eased(rig, sizing)
        if not judge(rig, rulebook).missed_keys and stands_clear(rig, rulebook, room or {}):
            return rig
