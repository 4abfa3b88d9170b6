"""What can be worked out of floats along a headrope."""

from dataclasses import replace
from random import Random
from typing import Any

from rigs.words.gear import SIDES, Float, Headrope, Rig
from rigs.words.say import gettext as _
from rigs.words.say import gettext_lazy
from rigs.words.units import FOOT, INCH, feet_inches

from .base import AT_LEAST, AT_MOST, BARE, COUNT, Facts, Told, WorkedOut, draw_near_a_step


def _spaced(
    length: float, count: int, port: float = 0.0, starboard: float = 0.0
) -> tuple[Float, ...]:
    """Return ``count`` floats spaced evenly, the outer ones so far from the headrope's ends."""
    first, last = port - length / 2, length / 2 - starboard
    gaps = count - 1
    if not gaps:
        return (Float((first + last) / 2, None),)
    return tuple(Float(first + (last - first) * i / gaps, None) for i in range(count))


def _draw_head_for_floats(rng: Random, book: Any, level: int) -> Rig:
    step = book.requirement("float_spacing").limit
    return replace(BARE, headrope=Headrope(draw_near_a_step(rng, (11, 26), step, level)))


def _head_facts(rig: Told, level: int) -> Facts:
    return (
        (_("Headrope"), feet_inches(rig.headrope.length)),
        (_("Floats"), _("spaced evenly, one at each end of the headrope")),
    )


def _with_floats(rig: Told, value: Any, book: Any) -> Told:
    return replace(rig, floats=_spaced(rig.headrope.length, value))


def _draw_floats(rng: Random, book: Any, level: int) -> Rig:
    inset: tuple[float, ...] = (0.0, 0.0)
    if level == 2:
        inset = (rng.randint(1, 5) * FOOT / 2,) * 2
    elif level == 3:
        inset = tuple(rng.randint(8, 36) * INCH for __ in SIDES)
    count = rng.randint(10, 26)
    step = book.requirement("float_spacing").limit
    length = (count - 1) * step / 2 + sum(inset)
    return replace(BARE, headrope=Headrope(length), floats=_spaced(length, count, *inset))


def _insets(rig: Told) -> tuple[float, float]:
    half = rig.headrope.length / 2
    return half + rig.floats[0].position, half - rig.floats[-1].position


def _float_facts(rig: Told, level: int) -> Facts:
    port, starboard = _insets(rig)
    if level == 1:
        where = _("spaced evenly, one at each end of the headrope")
    elif level == 2:
        where = _(
            "spaced evenly, the outer ones {feet_inches} from the ends of the headrope"
        ).format(feet_inches=feet_inches(port))
    else:
        where = _(
            "spaced evenly. The outer one is {feet_inches} from the port end of the "
            "headrope, and {feet_inches2} from the starboard end"
        ).format(feet_inches=feet_inches(port), feet_inches2=feet_inches(starboard))
    return ((_("Floats"), f"{len(rig.floats)}, {where}"),)


def _with_head_for_floats(rig: Told, value: Any, book: Any) -> Told:
    return replace(
        rig, headrope=Headrope(value), floats=_spaced(value, len(rig.floats), *_insets(rig))
    )


FLOAT_SPACING = (
    WorkedOut(
        "floats",
        5,
        _draw_head_for_floats,
        _head_facts,
        gettext_lazy("How few floats will do?"),
        _with_floats,
        AT_LEAST,
        COUNT,
        ("float", "floats"),
    ),
    WorkedOut(
        "headrope_for_floats",
        6,
        _draw_floats,
        _float_facts,
        gettext_lazy("How long may the headrope be with these floats?"),
        _with_head_for_floats,
        AT_MOST,
    ),
)
