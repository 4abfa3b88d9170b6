"""
Oddities that draw the eye, each with the requirement that it seems to break.

Like faults they are put before the judge, and what he finds must not change by them.
"""

from collections.abc import Callable
from dataclasses import replace
from typing import NamedTuple

from rigs.rules.judge import judge
from rigs.words.gear import Float
from rigs.words.units import INCH

from .faults import CannotSpoil
from .oddities import ODDITIES

_TRIES = 12


class RedHerring(NamedTuple):
    """
    Something that looks wrong and is not.

    ``key`` is the requirement it seems to break, ``make`` the function of a rig and a
    random.Random that makes it, ``words`` what to say of it to a trainee who fell for it.
    """

    key: str
    make: Callable
    words: str


def _doubled(rig, rng):
    """Hang a second chain beside that of one dropper."""
    index = rng.randrange(len(rig.droppers))
    twice = replace(rig.droppers[index], count=2)
    return replace(rig, droppers=(*rig.droppers[:index], twice, *rig.droppers[index + 1 :]))


def _uneven(rig, rng):
    """Shift one dropper that has two neighbours on its own wing."""
    half = rig.footrope.bosom / 2
    inner = [
        index
        for index in range(1, len(rig.droppers) - 1)
        if all(abs(each.position) >= half for each in rig.droppers[index - 1 : index + 2])
        and abs(rig.droppers[index].position) > half
    ]
    if not inner:
        raise CannotSpoil
    index = rng.choice(inner)
    step = rng.choice([-1, 1]) * rng.randint(6, 24) * INCH
    each = rig.droppers[index]
    met = None if each.sweep_position is None else each.sweep_position + step
    moved = replace(each, position=each.position + step, sweep_position=met)
    return replace(rig, droppers=(*rig.droppers[:index], moved, *rig.droppers[index + 1 :]))


def _no_middle_float(rig, rng):
    """Space the floats evenly with a gap, not a float, in the middle."""
    gaps = len(rig.floats) - 1
    if gaps % 2:
        raise CannotSpoil
    length, size = rig.headrope.length, rig.floats[0].diameter
    spaced = tuple(Float(length * (i / (gaps + 1) - 0.5), size) for i in range(gaps + 2))
    return replace(rig, floats=spaced)


RED_HERRINGS = {
    "doubled dropper": RedHerring(
        "dropper_stock",
        _doubled,
        "One dropper is two chains side by side. This site gauges each by itself.",
    ),
    "light dropper": RedHerring(
        "dropper_stock",
        ODDITIES["light dropper"],
        "One dropper is of lighter chain than the rest. They do not have to match.",
    ),
    "uneven gaps": RedHerring(
        "dropper_spacing",
        _uneven,
        "The droppers on one wing are not evenly spaced. Only the widest gap counts.",
    ),
    "extra dropper": RedHerring(
        "dropper_spacing",
        ODDITIES["extra dropper"],
        "There is one dropper more than needed. Closer together is fine.",
    ),
    "long dropper": RedHerring(
        "dropper_length",
        ODDITIES["long dropper"],
        "One dropper is longer than the rest. Only the shortest one counts.",
    ),
    "no float in the middle": RedHerring(
        "float_spacing",
        _no_middle_float,
        "No float sits at the middle of the headrope. None has to: only gaps are measured.",
    ),
    "extra float": RedHerring(
        "float_spacing",
        ODDITIES["extra float"],
        "There is one float more than needed. Closer together is fine.",
    ),
    "big float": RedHerring(
        "float_diameter",
        ODDITIES["big float"],
        "One float is larger than the rest. Only the smallest one counts.",
    ),
    "short legs": RedHerring(
        "legs_equal",
        ODDITIES["short legs"],
        "The two sides have legs of different lengths. Each side is compared only with itself.",
    ),
    "thin wire": RedHerring(
        "bottom_leg_wire",
        ODDITIES["thin wire"],
        "One bottom leg is of thinner wire than the other. They do not have to match.",
    ),
    "short cable": RedHerring(
        "door_to_wing_end",
        ODDITIES["short cable"],
        "One ground cable is shorter than the other. Only the longer side counts.",
    ),
    "slack half": RedHerring(
        "sweep_excess_each_side",
        ODDITIES["long sweep half"],
        "One half of the sweep is slacker than the other. Each half is compared with its own "
        "side of the footrope.",
    ),
}


def apart_from(rulebook, keys):
    """Return the names of those that seem to break a law of ``rulebook`` other than ``keys``."""
    return [
        name
        for name, each in RED_HERRINGS.items()
        if each.key not in keys
        and rulebook.has(each.key)
        and not rulebook.requirement(each.key).by_custom
    ]


def with_red_herrings(rig, names, rng, rulebook, suits=None):
    """
    Return (rig, names): ``rig`` with as many of ``names`` as can be had, and which those are.

    ``names`` are of RED_HERRINGS. Each leaves every outcome that the judge finds as it
    was. ``suits``, if given, is asked of each rig that would do, and may turn it down.
    """
    had = []
    for name in names:
        for _ in range(_TRIES):
            odd = _tried(rig, name, rng, rulebook)
            if odd is not None and (suits is None or suits(odd)):
                rig = odd
                had.append(name)
                break
    return rig, tuple(had)


def _tried(rig, name, rng, rulebook):
    try:
        odd = RED_HERRINGS[name].make(rig, rng)
    except (CannotSpoil, ValueError):  # ValueError: no size is lighter, or none larger
        return None
    return odd if judge(odd, rulebook).missed_keys == judge(rig, rulebook).missed_keys else None
