"""What can be worked out of the sweep."""

from dataclasses import replace
from random import Random
from typing import Any

from rigs.words.gear import Dropper, Footrope, Rig, Sweep
from rigs.words.say import gettext as _
from rigs.words.say import gettext_lazy
from rigs.words.units import FOOT, feet_inches

from .base import AT_LEAST, AT_MOST, BARE, Facts, Told, WorkedOut, draw_feet, draw_rope, parts_of
from .ropes import draw_footrope, footrope_facts

AMPLE = 30 * FOOT  # by which the half that nobody is asked about is longer than its footrope


def _swept(rope: Footrope, port: float | None = None) -> Rig:
    """Return a rig with a sweep whose starboard half is long enough for any rule."""
    return replace(BARE, footrope=rope, sweep=Sweep(port, rope.starboard_end + AMPLE, None))


def _draw_half(rng: Random, book: Any, level: int) -> Rig:
    return _swept(draw_rope(rng, level) if level == 3 else _halves(rng, level))


def _halves(rng: Random, level: int) -> Footrope:
    """Return a footrope of which only its two halves are told."""
    half = draw_feet(rng, 26, 60, level)
    return Footrope(0.0, half, half)


def _half_facts(rig: Told, level: int) -> Facts:
    if level == 3:
        return parts_of(rig.footrope)
    return ((_("Each half of the footrope"), feet_inches(rig.footrope.port_wing)),)


def _with_port_half(rig: Told, value: Any, book: Any) -> Told:
    return replace(rig, sweep=replace(rig.sweep, port=value))


def _draw_sweep(rng: Random, book: Any, level: int) -> Rig:
    port = draw_feet(rng, 32, 66, level)
    bosom = rng.randint(8, 14) * 2 * FOOT if level == 3 else 0.0
    return _swept(Footrope(bosom, 0.0, 0.0), port)


def _sweep_facts(rig: Told, level: int) -> Facts:
    half = (_("Port half of the sweep"), feet_inches(rig.sweep.port))
    if level < 3:
        return (half,)
    return (half, (_("Bosom, corner to corner"), feet_inches(rig.footrope.bosom)))


def _ask_port_rope(rig: Told, level: int) -> str:
    if level < 3:
        return _("How long may the port half of the footrope be?")
    return _("How long may the port wing be?")


def _with_port_wing(rig: Told, value: Any, book: Any) -> Told:
    return replace(rig, footrope=replace(rig.footrope, port_wing=value))


def _draw_past(rng: Random, book: Any, level: int) -> Rig:
    """A port wing with a dropper on it, straight down to the sweep, and a stretch past it."""
    past = draw_feet(rng, 1, 7, level)
    out = draw_feet(rng, 5, 30, level)
    rope = Footrope(24 * FOOT, out + past, out + past)
    hung = tuple(
        Dropper(at, None, None, sweep_position=at)
        for at in (rope.port_corner - out, rope.starboard_corner + out)
    )
    return replace(_swept(rope), droppers=hung)


def _past_facts(rig: Told, level: int) -> Facts:
    rope = rig.footrope
    at = rig.droppers[0].position
    if level < 3:
        past = feet_inches(at - rope.port_end)
        return ((_("Footrope from the outermost dropper to the port wing end"), past),)
    return (
        (_("Port wing"), feet_inches(rope.port_wing)),
        (
            _("Outermost dropper on it"),
            _("{feet_inches} from the corner").format(
                feet_inches=feet_inches(rope.port_corner - at)
            ),
        ),
    )


def _with_past(rig: Told, value: Any, book: Any) -> Told:
    outer = abs(rig.droppers[0].sweep_position)
    return replace(rig, sweep=replace(rig.sweep, port=outer + value))


SWEEP_EXCESS_EACH_SIDE = (
    WorkedOut(
        "sweep_half",
        11,
        _draw_half,
        _half_facts,
        gettext_lazy("How short may the port half of the sweep be?"),
        _with_port_half,
        AT_LEAST,
    ),
    WorkedOut(
        "footrope_half",
        12,
        _draw_sweep,
        _sweep_facts,
        _ask_port_rope,
        _with_port_wing,
        AT_MOST,
    ),
)
SWEEP_EXCESS = (
    WorkedOut(
        "whole_sweep",
        13,
        draw_footrope,
        footrope_facts,
        gettext_lazy("How short may the whole sweep be?"),
        lambda rig, value, book: replace(rig, sweep=Sweep(value / 2, value / 2, None)),
        AT_LEAST,
    ),
)
SWEEP_WING_EXCESS = (
    WorkedOut(
        "sweep_past_dropper",
        14,
        _draw_past,
        _past_facts,
        gettext_lazy("How short may the sweep be from that dropper to where it joins the leg?"),
        _with_past,
        AT_LEAST,
    ),
)
