"""The grate, if there is one."""

from rigs.words.gear import Rig
from rigs.words.units import INCH

from .base import MORE_OR_LESS, Measure
from .questions import LENGTH, OnSheet, Question, Total, one
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

    sheet = one(
        "grate",
        Question(
            "bar_gap",
            "Widest space between bars",
            LENGTH,
            "mm",
            "bar gap",
            of=lambda rig: None if rig.grate is None else rig.grate.bar_gap,
            stop="grate",
            place=30,
        ),
    )


_WIDTH = Question(
    "grate_width",
    "Width of the grate where it is attached",
    LENGTH,
    "in",
    "grate",
    of=lambda rig: None if rig.grate is None else rig.grate.width,
    stop="grate",
    place=40,
)
_OUTLET = Question(
    "outlet_width",
    "Width of the outlet",
    LENGTH,
    "in",
    "outlet",
    of=lambda rig: None if rig.grate is None else rig.grate.outlet_width,
    stop="grate",
    place=50,
)


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

    sheet = OnSheet((Total("outlet", ((1, _OUTLET), (-1, _WIDTH))),))


class GrateStiff(Measure):
    """Whether the grate is rigid or semi-rigid."""

    key = "grate_stiff"
    dimension = "flag"

    def read(self, rig: Rig) -> Readings | None:
        return NOTHING if rig.grate is None else ([rig.grate.stiff], ("grate",))

    sheet = one(
        "grate",
        Question(
            "grate_stiff",
            "Is the grate rigid or semi-rigid?",
            of=lambda rig: None if rig.grate is None else rig.grate.stiff,
            stop="grate",
            place=20,
        ),
    )


class GratePosition(Measure):
    """Whether there is a grate forward of the codend."""

    key = "grate_position"
    dimension = "flag"
    missing_fails = True

    def read(self, rig: Rig) -> Readings | None:
        return NOTHING if rig.grate is None else ([rig.grate.ahead_of_codend], ("grate",))

    sheet = one(
        "grate",
        Question(
            "grate_ahead",
            "Is there a grate forward of the codend?",
            of=lambda rig: rig.grate is not None and rig.grate.ahead_of_codend,
            stop="grate",
            place=10,
        ),
    )
