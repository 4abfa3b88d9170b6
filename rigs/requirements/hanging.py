"""Droppers hung anew, moved along the footrope, or set out along a wing."""

from collections.abc import Iterable, Mapping
from dataclasses import replace
from itertools import accumulate

from rigs.words.gear import PORT, SIDES, STARBOARD, Dropper, Footrope, Rig
from rigs.words.units import INCH, ROUNDING

from .making import Making, swapped, there

OUTWARD = {PORT: -1, STARBOARD: 1}
"""Which way is out from the center, by side."""

Wing = tuple[list[float], float]
"""Gaps in metres from the corner out, and what is left at the wing end."""


def hung_at(dropper: Dropper, position: float) -> Dropper:
    """Return one made like ``dropper`` at ``position``, straight down to the sweep if there is."""
    met = None if dropper.sweep_position is None else position
    return replace(dropper, position=position, sweep_position=met)


def in_order(droppers: Iterable[Dropper]) -> tuple[Dropper, ...]:
    """Return ``droppers`` from port to starboard."""
    return tuple(sorted(droppers, key=lambda each: each.position))


def rehung(rig: Rig, places: Iterable[float]) -> Rig:
    """Return ``rig`` with droppers of one make at ``places``, in metres from the center."""
    make = there(rig.droppers)[0]
    return rig.with_(droppers=tuple(hung_at(make, place) for place in sorted(places)))


def nearest(droppers: tuple[Dropper, ...], position: float) -> int:
    """Return the index of the dropper that hangs nearest to ``position``."""
    return min(range(len(droppers)), key=lambda i: abs(droppers[i].position - position))


def side_of(dropper: Dropper) -> str:
    """Return the side on which ``dropper`` hangs; starboard if in the middle."""
    return PORT if dropper.position < 0 else STARBOARD


def on_bosom(dropper: Dropper, rope: Footrope) -> bool:
    """Return whether ``dropper`` hangs on the bosom of ``rope``, its corners included."""
    return abs(dropper.position) <= rope.bosom / 2 + ROUNDING


def without(rig: Rig, index: int) -> Rig:
    """Return ``rig`` without one of its droppers."""
    hung = there(rig.droppers)
    return rig.with_(droppers=hung[:index] + hung[index + 1 :])


def shifted(rig: Rig, index: int, step: float) -> Rig:
    """Return ``rig`` with one of its droppers moved, its lower end along with it."""
    hung = there(rig.droppers)
    changes = {"position": hung[index].position + step}
    met = hung[index].sweep_position
    if met is not None:
        changes["sweep_position"] = met + step
    return rig.with_(droppers=swapped(hung, index, **changes))


def a_wing(making: Making, count: int) -> Wing:
    """Return a wing of ``count`` droppers, all well within the limit."""
    limit = making.limit_of("dropper_spacing")
    gaps = [limit - making.rng.randint(2, 24) * INCH for _ in range(count)]
    return gaps, making.rng.randint(6, round(limit / INCH) - 6) * INCH


def on_wings(making: Making, wings: Mapping[str, Wing]) -> Rig:
    """Return a rig, sound but for them, with the ``wings`` by side."""
    rope = making.rig.footrope
    long = {side: sum(gaps) + rest for side, (gaps, rest) in wings.items()}
    port, starboard = (long.get(side, rope.wing(side)) for side in SIDES)
    rig = making.sound(replace(rope, port_wing=port, starboard_wing=starboard))
    places = [
        each.position
        for each in there(rig.droppers)
        if on_bosom(each, rope) or side_of(each) not in wings
    ]
    for side, (gaps, _) in wings.items():
        places += [rope.corner(side) + OUTWARD[side] * out for out in accumulate(gaps)]
    return rehung(rig, places)
