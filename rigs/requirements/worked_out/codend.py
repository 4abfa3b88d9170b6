"""What can be worked out of the codend."""

from dataclasses import replace
from random import Random
from typing import Any

from rigs.words.gear import DIAMOND, SQUARE, Codend, Rig
from rigs.words.say import gettext as _
from rigs.words.units import FOOT, feet_inches

from .base import AT_LEAST, BARE, COUNT, Facts, Told, WorkedOut


def _draw_vessel(rng: Random, book: Any, level: int) -> Rig:
    rule = next(each for each in book.requirements if each.by_vessel)
    edge = rule.vessel_over if rule.vessel_over is not None else rule.vessel_up_to
    over = rng.random() < 0.5
    off = {1: (15, 30), 2: (5, 14), 3: (1, 3)}[level]
    length = edge + rng.randint(*off) * (1 if over else -1) * FOOT
    hanging = DIAMOND if level == 1 else rng.choice((DIAMOND, SQUARE))
    return replace(BARE, vessel_length=length, codend=Codend(None, None, hanging))


def _vessel_facts(rig: Told, level: int) -> Facts:
    return (
        (_("Vessel"), feet_inches(rig.vessel_length)),
        (_("Codend"), _("{hanging} mesh").format(hanging=rig.codend.hanging)),
    )


def _ask_meshes(rig: Told, level: int) -> str:
    counted = "bars" if rig.codend.hanging == SQUARE else "meshes"
    return _(
        "From the terminus, over how many {counted} must the mesh have the size asked?"
    ).format(counted=counted)


def _with_meshes(rig: Told, value: Any, book: Any) -> Told:
    return replace(rig, codend=replace(rig.codend, counted=value))


MESH_COUNT = (
    WorkedOut(
        "meshes",
        15,
        _draw_vessel,
        _vessel_facts,
        _ask_meshes,
        _with_meshes,
        AT_LEAST,
        COUNT,
        ("mesh", "meshes"),
    ),
)
