"""The grate, if there is one."""

from rigs.words.gear import Rig
from rigs.words.units import INCH

from .base import MORE_OR_LESS, Measure
from .readings import NOTHING, Readings
from .spans import Steps


class GrateBarGap(Measure):
    """How wide the spaces between the bars are."""

    key = "grate_bar_gap"
    dimension = "length"
    allowance = "length"
    scale = Steps(0.001, 10)

    def read(self, rig: Rig) -> Readings | None:
        return NOTHING if rig.grate is None else ([rig.grate.bar_gap], ("grate",))


class GrateOutlet(Measure):
    """By how much the outlet is wider than the grate."""

    key = "grate_outlet"
    dimension = "length"
    allowance = "length"
    zero = MORE_OR_LESS
    scale = Steps(INCH / 4, 4)

    def read(self, rig: Rig) -> Readings | None:
        grate = rig.grate
        if grate is None:
            return NOTHING
        if grate.width is None or grate.outlet_width is None:
            return None
        return [grate.outlet_width - grate.width], ("outlet",)


class GrateStiff(Measure):
    """Whether the grate is rigid or semi-rigid."""

    key = "grate_stiff"
    dimension = "flag"

    def read(self, rig: Rig) -> Readings | None:
        return NOTHING if rig.grate is None else ([rig.grate.stiff], ("grate",))


class GratePosition(Measure):
    """Whether there is a grate forward of the codend."""

    key = "grate_position"
    dimension = "flag"
    missing_fails = True

    def read(self, rig: Rig) -> Readings | None:
        return NOTHING if rig.grate is None else ([rig.grate.ahead_of_codend], ("grate",))
