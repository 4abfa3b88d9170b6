"""Headrope and footrope."""

from math import inf

from rigs.words.gear import PORT, STARBOARD, Rig
from rigs.words.units import INCH

from .base import MORE_OR_LESS, Measure
from .questions import LENGTH, OnSheet, Question, Total, each_side, one
from .readings import Between, Readings
from .spans import Steps

HEADROPE = Question(
    "headrope",
    "Headrope, wing end to wing end",
    LENGTH,
    "ft",
    "headrope",
    of=lambda rig: rig.headrope.length,
    stop="headrope",
    place=10,
)
BOSOM = Question(
    "bosom",
    "Bosom, corner to corner",
    LENGTH,
    "ft",
    "bosom",
    of=lambda rig: rig.footrope.bosom,
    stop="center",
    place=20,
)
WING = each_side(
    lambda side: Question(
        f"{side}_wing",
        "Wing end to the corner, along the footrope",
        LENGTH,
        "ft",
        "wing",
        of=lambda rig: rig.footrope.wing(side),
        stop=f"{side}_wing",
        place=40,
    )
)
FOOTROPE = ((1, WING[PORT]), (1, BOSOM), (1, WING[STARBOARD]))
"""The terms of its whole length."""


class FootropeOverHeadrope(Measure, shared=True):
    """By how much the footrope is longer than the headrope."""

    dimension = "length"
    allowance = "length"
    zero = MORE_OR_LESS
    scale = Steps(3 * INCH, 8)

    def read(self, rig: Rig) -> Readings | None:
        if rig.headrope.length is None:
            return [Between(-inf, rig.footrope.length)], ("footrope",)
        return [rig.footrope.length - rig.headrope.length], ("footrope",)

    sheet = OnSheet((Total("footrope", (*FOOTROPE, (-1, HEADROPE))),))


class FootropeLonger(FootropeOverHeadrope):
    """That the footrope is longer than the headrope."""

    key = "footrope_longer"


class FootropeExcess(FootropeOverHeadrope):
    """That the footrope is not too much longer than the headrope."""

    key = "footrope_excess"


class OffBottom(Measure):
    """Whether the net is rigged to fly clear of the bottom."""

    key = "off_bottom"
    dimension = "flag"

    def read(self, rig: Rig) -> Readings | None:
        return [rig.footrope.off_bottom], ("footrope",)

    sheet = one(
        "footrope",
        Question(
            "off_bottom",
            "Is the footrope rigged to stay off the bottom?",
            of=lambda rig: rig.footrope.off_bottom,
            stop="center",
            place=30,
        ),
    )
