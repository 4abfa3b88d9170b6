"""What can be worked out of the way from door to wing end."""

from collections.abc import Sequence
from dataclasses import replace
from random import Random
from typing import Any

from rigs.words.gear import SIDES, GroundCable, Leg, Rig
from rigs.words.say import gettext as _
from rigs.words.say import gettext_lazy
from rigs.words.units import fathoms_and_feet

from .base import AT_MOST, BARE, FATHOMS, Facts, Told, WorkedOut, draw_fathoms, draw_two


def _wires(legs: Sequence[float | None], cables: Sequence[float | None]) -> Rig:
    return replace(
        BARE,
        legs=tuple(
            Leg(side, leg, leg, None, None) for side, leg in zip(SIDES, legs, strict=True) if leg
        ),
        ground_cables=tuple(
            GroundCable(side, cable, None)
            for side, cable in zip(SIDES, cables, strict=True)
            if cable
        ),
    )


def _draw_legs(rng: Random, book: Any, level: int) -> Rig:
    return _wires(draw_two(rng, draw_fathoms, 4, 15, level), (None, None))


def _leg_facts(rig: Told, level: int) -> Facts:
    port, starboard = (each.top_length for each in rig.legs)
    if port == starboard:
        return ((_("Top and bottom legs, both sides"), fathoms_and_feet(port)),)
    return (
        (_("Top and bottom leg, port"), fathoms_and_feet(port)),
        (_("Top and bottom leg, starboard"), fathoms_and_feet(starboard)),
    )


def _with_cables(rig: Told, value: Any, book: Any) -> Told:
    return _wires([each.top_length for each in rig.legs], (value, value))


def _draw_cables(rng: Random, book: Any, level: int) -> Rig:
    return _wires((None, None), draw_two(rng, draw_fathoms, 24, 36, level))


def _cable_facts(rig: Told, level: int) -> Facts:
    port, starboard = (each.length for each in rig.ground_cables)
    if port == starboard:
        return ((_("Ground cables, both sides"), fathoms_and_feet(port)),)
    return (
        (_("Ground cable, port"), fathoms_and_feet(port)),
        (_("Ground cable, starboard"), fathoms_and_feet(starboard)),
    )


def _with_legs(rig: Told, value: Any, book: Any) -> Told:
    return _wires((value, value), [each.length for each in rig.ground_cables])


DOOR_TO_WING_END = (
    WorkedOut(
        "cable",
        1,
        _draw_legs,
        _leg_facts,
        gettext_lazy("Both ground cables are of one length. How long may they be?"),
        _with_cables,
        AT_MOST,
        FATHOMS,
    ),
    WorkedOut(
        "legs",
        2,
        _draw_cables,
        _cable_facts,
        gettext_lazy("All legs are of one length. How long may they be?"),
        _with_legs,
        AT_MOST,
        FATHOMS,
    ),
)
