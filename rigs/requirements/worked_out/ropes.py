"""What can be worked out of headrope and footrope."""

from dataclasses import replace
from random import Random
from typing import Any

from rigs.words.gear import Footrope, Headrope, Rig
from rigs.words.say import gettext as _
from rigs.words.say import gettext_lazy
from rigs.words.units import FOOT, feet_inches

from .base import AT_LEAST, AT_MOST, BARE, Facts, Told, WorkedOut, draw_feet, draw_rope, parts_of


def draw_footrope(rng: Random, book: Any, level: int) -> Rig:
    if level < 3:
        return replace(BARE, footrope=Footrope(draw_feet(rng, 55, 120, level), 0.0, 0.0))
    return replace(BARE, footrope=draw_rope(rng, level))


def footrope_facts(rig: Told, level: int) -> Facts:
    if level < 3:
        return ((_("Footrope"), feet_inches(rig.footrope.length)),)
    return parts_of(rig.footrope)


def _with_headrope(rig: Told, value: Any, book: Any) -> Told:
    return replace(rig, headrope=Headrope(value))


def _draw_headrope(rng: Random, book: Any, level: int) -> Rig:
    bosom = rng.randint(8, 14) * 2 * FOOT if level == 3 else 0.0
    head = Headrope(draw_feet(rng, 50, 100, level))
    return replace(BARE, headrope=head, footrope=Footrope(bosom, 0.0, 0.0))


def _headrope_facts(rig: Told, level: int) -> Facts:
    head = (_("Headrope"), feet_inches(rig.headrope.length))
    if level < 3:
        return (head,)
    return (head, (_("Bosom of the footrope"), feet_inches(rig.footrope.bosom)))


def _with_footrope(rig: Told, value: Any, book: Any) -> Told:
    bosom = rig.footrope.bosom
    rope = Footrope(bosom, value, value) if bosom else Footrope(value, 0.0, 0.0)
    return replace(rig, footrope=rope)


FOOTROPE_EXCESS = (
    WorkedOut(
        "headrope",
        3,
        draw_footrope,
        footrope_facts,
        gettext_lazy("How short may the headrope be?"),
        _with_headrope,
        AT_LEAST,
    ),
    WorkedOut(
        "footrope",
        4,
        _draw_headrope,
        _headrope_facts,
        lambda rig, level: (
            _("Both wings are of one length. How long may each be?")
            if level == 3
            else _("How long may the footrope be?")
        ),
        _with_footrope,
        AT_MOST,
    ),
)
