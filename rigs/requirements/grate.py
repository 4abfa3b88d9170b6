"""The grate, if there is one."""

from dataclasses import replace

from rigs.words.gear import Grate, Rig
from rigs.words.say import gettext as _
from rigs.words.say import gettext_lazy
from rigs.words.units import INCH, inches

from .base import MORE_OR_LESS, Measure
from .making import Making, Told, listed, there
from .questions import LENGTH, MOST, OnSheet, Question, Total, one
from .readings import NOTHING, Readings
from .sights import LookedAt, Sights
from .sizing import Sizing
from .spans import Steps


class GrateBarGap(Measure):
    """How wide the spaces between the bars are."""

    key = "grate_bar_gap"
    about = gettext_lazy("Bars of the grate")
    sizes_of = gettext_lazy("Spaces between the bars of a grate")
    dimension = "length"
    allowance = "length"
    scale = Steps(0.001, 10)
    turn = 93

    def read(self, rig: Rig) -> Readings | None:
        return NOTHING if rig.grate is None else ([rig.grate.bar_gap], ("grate",))

    sheet = one(
        "grate",
        Question(
            "bar_gap",
            gettext_lazy("Spaces between bars, one by one, or the widest"),
            LENGTH,
            "mm",
            gettext_lazy("bar gap"),
            help=gettext_lazy("Commas between. Begin at the port side."),
            several=MOST,
            of=lambda rig: None if rig.grate is None else rig.grate.bar_gap,
            stop="grate",
            place=30,
        ),
        each=gettext_lazy("grate, space {at} of {of} measured"),
    )

    def put(self, making: Making) -> Rig:
        grate = replace(there(making.rig.grate), bar_gap=making.reading())
        return making.rig.with_(grate=grate)

    def near(self, making: Making) -> Told:
        """Three spaces between the grate's bars, the widest among them."""
        worst = making.reading()
        gaps = making.mixed(worst, *making.beside(worst, 2))
        rig = making.rig.with_(grate=replace(there(making.rig.grate), bar_gap=worst))
        told = listed([making.rule.say(gap) for gap in gaps])
        return rig, (_("The widest spaces between the grate's bars are {told}.").format(told=told),)

    def drawn(self, rig: Rig, sizing: Sizing) -> Rig:
        grate = rig.grate or Grate(None, None, None)
        return rig.with_(grate=replace(grate, bar_gap=sizing.sound(self.key)))


_WIDTH = Question(
    "grate_width",
    gettext_lazy("Width of the grate where it is attached"),
    LENGTH,
    "in",
    "grate",
    of=lambda rig: None if rig.grate is None else rig.grate.width,
    stop="grate",
    place=40,
)
_OUTLET = Question(
    "outlet_width",
    gettext_lazy("Width of the outlet"),
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
    about = gettext_lazy("Outlet of the grate")
    dimension = "length"
    allowance = "length"
    zero = MORE_OR_LESS
    scale = Steps(INCH / 4, 4)
    turn = 94

    def read(self, rig: Rig) -> Readings | None:
        grate = rig.grate
        if grate is None:
            return NOTHING
        if grate.width is None or grate.outlet_width is None:
            return None
        return [grate.outlet_width - grate.width], ("outlet",)

    sheet = OnSheet((Total("outlet", ((1, _OUTLET), (-1, _WIDTH))),))

    def put(self, making: Making) -> Rig:
        grate = there(making.rig.grate)
        outlet = there(grate.width) + making.reading()
        return making.rig.with_(grate=replace(grate, outlet_width=outlet))

    def near(self, making: Making) -> Told:
        """The grate's width and the outlet's, to be held against each other."""
        width = making.rng.randint(120, 168) * INCH / 4
        outlet = width + making.reading()
        grate = replace(there(making.rig.grate), width=width, outlet_width=outlet)
        return making.rig.with_(grate=grate), (
            _("The grate is {inches} wide where it is attached.").format(inches=inches(width)),
            _("The edge of the outlet next to it is {inches} wide.").format(inches=inches(outlet)),
        )

    def drawn(self, rig: Rig, sizing: Sizing) -> Rig:
        width = sizing.rng.randint(30, 42) * INCH
        outlet = width + sizing.sound(self.key)
        grate = rig.grate or Grate(None, None, None)
        return rig.with_(grate=replace(grate, width=width, outlet_width=outlet))


class GrateStiff(LookedAt):
    """Whether the grate is rigid or semi-rigid."""

    key = "grate_stiff"
    about = gettext_lazy("Make of the grate")
    met = Sights(
        plain=(
            gettext_lazy("The grate is of welded steel bars."),
            gettext_lazy("The grate is of steel. Two hands cannot bend it."),
        ),
        close=(
            gettext_lazy(
                "The grate is of plastic tube. It gives a little and springs straight again."
            ),
            gettext_lazy(
                "The grate has two stiff halves with a hinge, so that it goes on the net drum."
            ),
            gettext_lazy("The frame of the grate is steel. The bars in it are plastic tube."),
        ),
    )
    broken = Sights(
        plain=(
            gettext_lazy("The grate is of rope on a soft hoop. It folds when it is lifted."),
            gettext_lazy("The bars of the grate are ropes. They sag when it is lifted."),
        ),
        close=(
            gettext_lazy("The grate is of thin hose. It sags when lifted and stays bent."),
            gettext_lazy("The grate is a soft mat of cords, so that it goes on the net drum."),
            gettext_lazy("The frame of the grate is steel. The bars in it are rope."),
        ),
    )

    def read(self, rig: Rig) -> Readings | None:
        return NOTHING if rig.grate is None else ([rig.grate.stiff], ("grate",))

    sheet = one(
        "grate",
        Question(
            "grate_stiff",
            gettext_lazy("Is the grate rigid or semi-rigid?"),
            of=lambda rig: None if rig.grate is None else rig.grate.stiff,
            stop="grate",
            place=20,
        ),
    )

    def breach(self, rig: Rig, side: str, wire: str) -> Rig:
        return rig.with_(grate=replace(there(rig.grate), stiff=False))


class GratePosition(LookedAt):
    """Whether there is a grate forward of the codend."""

    key = "grate_position"
    about = gettext_lazy("Place of the grate")
    missing_fails = True
    met = Sights(
        plain=(
            gettext_lazy("The grate sits ahead of the codend."),
            gettext_lazy("The grate sits ahead of the codend, across the whole net."),
        ),
        close=(
            gettext_lazy("The grate sits just ahead of the first meshes of the codend."),
            gettext_lazy("A funnel of netting leads to the grate. The codend begins behind it."),
            gettext_lazy("The grate sits two fathoms ahead of the codend."),
        ),
    )
    broken = Sights(
        plain=(
            gettext_lazy("The grate is lashed on deck. None is in the net."),
            gettext_lazy("The grate sits at the very end of the codend."),
        ),
        close=(
            gettext_lazy("The grate sits just behind the first meshes of the codend."),
            gettext_lazy("A funnel of netting leads into the codend. The grate sits in there."),
            gettext_lazy("The grate sits two fathoms inside the codend."),
        ),
    )

    def read(self, rig: Rig) -> Readings | None:
        return NOTHING if rig.grate is None else ([rig.grate.ahead_of_codend], ("grate",))

    sheet = one(
        "grate",
        Question(
            "grate_ahead",
            gettext_lazy("Is there a grate forward of the codend?"),
            of=lambda rig: rig.grate is not None and rig.grate.ahead_of_codend,
            stop="grate",
            place=10,
        ),
    )

    def breach(self, rig: Rig, side: str, wire: str) -> Rig:
        return rig.with_(grate=replace(there(rig.grate), ahead_of_codend=False))
