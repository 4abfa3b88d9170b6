"""
One reading of a rig put near its limit, met or broken, and all else left as it is.

On either side of the limit the same part is changed in the same way, away from its
neighbors and toward the limit: how far is all that tells. So whoever only looks for the
odd part finds as many sound ones as broken ones. Begin with ``clearance.roomy_rig``, whose
own measures say nothing of where the limits are.
"""

from collections.abc import Collection, Mapping
from itertools import groupby
from random import Random
from typing import Any, NamedTuple

from rigs import requirements
from rigs.requirements.making import CannotMake
from rigs.requirements.spans import Steps
from rigs.rules.judge import judge
from rigs.rules.rulebook import Requirement, Rulebook
from rigs.words.gear import Rig

from . import faults, near
from .faults import Draw

_TRIES = 12


def one_of() -> tuple[tuple[str, ...], ...]:
    """Return keys of which one at a time can be put: they are limits of the same reading."""
    puttable = [each for each in requirements.all() if each.can("put")]
    groups = groupby(puttable, key=lambda each: each.reading_of)
    alike = (tuple(each.key for each in group) for _, group in groups)
    return tuple(keys for keys in alike if len(keys) > 1)


def distance(
    rng: Random, requirement: Requirement, broken: bool, level: int, room: float = 0.0
) -> float:
    """
    Return how far a reading of ``requirement`` is to lie off its limit, SI, at ``level``.

    As its scale has it, and at least ``room``: as far as whoever looks can tell. Raise
    CannotMake if it is not measured but looked at.
    """
    scale = requirement.measure.scale
    if scale is None:
        raise CannotMake(requirement.key)
    if isinstance(scale, Steps) and requirement.limit == 0 and requirement.test == "at most":
        off = scale.distance(rng, level)
    else:
        off = abs(scale.reading(rng, requirement, broken, level) - requirement.limit)
    return off if off >= room else off + room


def measured(rulebook: Rulebook, rig: Rig | None = None) -> tuple[str, ...]:
    """Return the keys of those requirements of which a reading can be put near the limit."""
    return tuple(
        each.key
        for each in rulebook.requirements
        if each.measure.can("put") and each.binds and (rig is None or each.applies_to(rig, None))
    )


def seen(rulebook: Rulebook, rig: Rig | None = None) -> tuple[str, ...]:
    """Return the keys of those that are merely looked at: so, or not so."""
    return tuple(
        key
        for key in faults.spoilable(rulebook, rig)
        if requirements.find(key).dimension == "flag" and not requirements.find(key).can("put")
    )


class Wanted(NamedTuple):
    """
    A reading to put on a rig: of which rule, ``broken`` or met.

    ``room`` is the least distance from the limit in metres; ``side`` the one to change, where
    there are two, and then the other stays as it is.
    """

    key: str
    broken: bool
    room: float = 0.0
    side: str | None = None


def put(rig: Rig, wanted: Wanted, draw: Draw) -> Rig:
    """
    Return ``rig`` with one reading near its limit, as ``wanted``.

    The outcome of every other requirement stays. A rule that is merely looked at is broken as
    ``faults`` does it, and met as it is. Raise CannotMake if it cannot be had.
    """
    key, broken, room, side = wanted
    requirement = draw.rulebook.requirement(key)
    if not requirement.measure.can("put"):
        return faults.spoil(rig, key, draw) if broken else rig
    before = judge(rig, draw.rulebook).missed_keys
    if key in before or not requirement.applies_to(rig, None):
        raise CannotMake(key)
    for _ in range(_TRIES):
        off = distance(draw.rng, requirement, broken, draw.level, room)
        try:
            made = requirement.measure.put(draw.making(rig, key, broken, off=off, side=side))
        except (ValueError, IndexError) as error:
            raise CannotMake(key) from error
        added = judge(made, draw.rulebook).missed_keys ^ before
        is_so = added - near.follows(key) == {key} if broken else not added
        if is_so and draw.takes(made):
            return made
    raise CannotMake(key)


def put_many(
    rig: Rig, sides: Mapping[str, bool], draw: Draw, room: Mapping[str, float] | None = None
) -> Rig:
    """
    Return ``rig`` with a reading put near the limit for every key of ``sides``.

    ``sides`` maps keys to whether they are to be broken, ``room`` keys to metres. Raise
    CannotMake if they cannot be had together.
    """
    for key in sorted(sides, key=lambda key: requirements.find(key).turn):
        rig = put(rig, Wanted(key, sides[key], (room or {}).get(key, 0.0)), draw)
    return rig


def readings(rig: Rig, keys: Collection[str], rulebook: Rulebook) -> dict[str, Any]:
    """Return what is read of each of ``keys`` that binds ``rig``: the reading nearest its limit."""
    findings = judge(rig, rulebook).findings
    return {each.key: each.measured for each in findings if each.key in keys}
