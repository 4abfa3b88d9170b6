"""What can be worked out of droppers along a footrope."""

from collections.abc import Iterable
from dataclasses import replace
from random import Random
from typing import Any

from rigs.words.gear import Dropper, Footrope, Rig
from rigs.words.say import gettext as _
from rigs.words.say import gettext_lazy
from rigs.words.units import FOOT, feet_inches

from .. import layout
from .base import (
    AT_LEAST,
    AT_MOST,
    BARE,
    COUNT,
    Facts,
    Told,
    WorkedOut,
    draw_feet,
    draw_near_a_step,
    parts_of,
)


def _droppers(places: Iterable[float]) -> tuple[Dropper, ...]:
    return tuple(Dropper(at, None, None) for at in places)


def _draw_wings(rng: Random, book: Any, level: int) -> Rig:
    step = book.requirement("dropper_spacing").limit
    bosom = rng.randint(8, 14) * 2 * FOOT
    port = starboard = draw_near_a_step(rng, (1, 5), step, level)
    while level == 3 and round(port / step) == round(starboard / step):
        starboard = draw_near_a_step(rng, (1, 5), step, level)
    return replace(BARE, footrope=Footrope(bosom, port, starboard))


def _wing_facts(rig: Told, level: int) -> Facts:
    if level == 1:
        return ((_("A wing, corner to wing end"), feet_inches(rig.footrope.port_wing)),)
    return parts_of(rig.footrope)


def _with_droppers(rig: Told, value: Any, book: Any) -> Told:
    """Hang ``value`` droppers where so many go best, and any more of them in the bosom."""
    rope = rig.footrope
    inner = {0.0, rope.port_corner, rope.starboard_corner}
    places = [place.position for place in layout.dropper_places(rope, book)]
    needed = sorted(places, key=lambda at: (at not in inner, abs(at)))
    spare = [rope.bosom / 4] * max(0, value - len(needed))
    return replace(rig, droppers=_droppers(needed[:value] + spare))


def _with_wing_droppers(rig: Told, value: Any, book: Any) -> Told:
    """Hang ``value`` droppers evenly along either wing, beside those of the bosom."""
    rope = rig.footrope
    out = [rope.port_wing * i / (value + 1) for i in range(1, value + 1)]
    hung = [0.0, rope.port_corner, rope.starboard_corner]
    hung += [rope.port_corner - at for at in out] + [rope.starboard_corner + at for at in out]
    return replace(rig, droppers=_droppers(hung))


def _draw_next(rng: Random, book: Any, level: int) -> Rig:
    """A starboard wing of which the inner droppers hang, one short of its next."""
    step = book.requirement("dropper_spacing").limit
    bosom = rng.randint(8, 14) * 2 * FOOT if level < 3 else draw_feet(rng, 16, 28, level)
    last = draw_feet(rng, 2, 30, level)
    wing = last + step + draw_feet(rng, 2, 9, level)
    rope = Footrope(bosom, wing, wing)
    inner = []
    at = last
    while at > 0:
        inner.append(rope.starboard_corner + at)
        at -= step
    port = [place.position for place in layout.dropper_places(rope, book) if place.position < 0]
    hung = [*port, 0.0, rope.starboard_corner, *inner]
    return replace(BARE, footrope=rope, droppers=_droppers(sorted(hung)))


def _outermost(rig: Told) -> Dropper:
    hung: tuple[Dropper, ...] = rig.droppers
    return max(hung, key=lambda each: each.position)


def _next_facts(rig: Told, level: int) -> Facts:
    rope = rig.footrope
    out = _outermost(rig).position - rope.starboard_corner
    wing = (_("Starboard wing"), feet_inches(rope.starboard_wing))
    hung = (
        _("Outermost dropper on it so far"),
        _("{feet_inches} from the corner").format(feet_inches=feet_inches(out)),
    )
    if level < 3:
        return (wing, hung)
    return ((_("Bosom, corner to corner"), feet_inches(rope.bosom)), wing, hung)


def _ask_next(rig: Told, level: int) -> str:
    start = "center" if level == 3 else "corner"
    return _("More droppers go on. How far from the {start} may the next one out be?").format(
        start=start
    )


def _hang_from(rig: Told, position: float, book: Any) -> Told:
    """Hang the next dropper at ``position``, and more from there out to the wing end."""
    rope = rig.footrope
    step = book.requirement("dropper_spacing").limit
    out = layout.wing_positions(max(0.0, rope.starboard_end - position), step)
    places = [each.position for each in rig.droppers]
    places += [position, *(position + at for at in out)]
    return replace(rig, droppers=_droppers(sorted(places)))


def _next_from_corner(rig: Told, value: Any, book: Any) -> Told:
    return _hang_from(rig, rig.footrope.starboard_corner + value, book)


def _next_from_center(rig: Told, value: Any, book: Any) -> Told:
    return _hang_from(rig, value, book)


DROPPER_SPACING = (
    WorkedOut(
        "wing_droppers",
        7,
        _draw_wings,
        _wing_facts,
        gettext_lazy("How few droppers will do on this wing, not counting the one at the corner?"),
        _with_wing_droppers,
        AT_LEAST,
        COUNT,
        ("dropper", "droppers"),
        levels=(1,),
    ),
    WorkedOut(
        "all_droppers",
        8,
        _draw_wings,
        _wing_facts,
        gettext_lazy("How few droppers will do on the whole footrope?"),
        _with_droppers,
        AT_LEAST,
        COUNT,
        ("dropper", "droppers"),
        levels=(2, 3),
    ),
    WorkedOut(
        "next_dropper",
        9,
        _draw_next,
        _next_facts,
        _ask_next,
        _next_from_corner,
        AT_MOST,
        levels=(1, 2),
        far=True,
    ),
    WorkedOut(
        "next_from_center",
        10,
        _draw_next,
        _next_facts,
        _ask_next,
        _next_from_center,
        AT_MOST,
        levels=(3,),
        far=True,
    ),
)
