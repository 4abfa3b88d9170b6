"""Headrope and footrope."""

from math import inf

from rigs.words.gear import Rig
from rigs.words.units import INCH

from .base import MORE_OR_LESS, Measure
from .readings import Between, Readings
from .spans import Steps


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
