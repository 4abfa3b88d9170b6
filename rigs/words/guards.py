"""
What no net has, and what few have: guards of ours against slips of the thumb.

None of it comes from a regulation. What no net has is refused; what few have is asked
about, and taken when its writer says that it is right. Lengths are metres.
"""

from collections.abc import Callable
from typing import NamedTuple

from .say import gettext as _
from .say import gettext_lazy
from .units import FATHOM, FOOT, INCH, KNOT, POUND, fathoms, feet_inches, inches, pounds

LONGEST = 1000 * FOOT
"""Longer than any part of a net."""

MOST_PIECES = 400
"""More droppers, floats or links than any part of a net has."""

HEAVIEST = 500_000 * POUND
"""More than any vessel here keeps, in kilograms."""

MOST_MESHES = 10000
"""More than any codend has."""


class Usual(NamedTuple):
    """
    From how much to how much a part measures on the nets that we know of.

    Common practice, no source, and generous. ``words`` are what is less than ``least`` and
    more than ``most``; it is printed in ``unit``. Metres, or kilograms and m/s where that unit
    says so.
    """

    part: str
    least: float
    most: float
    words: tuple[str, str] = ("shorter", "longer")
    unit: str = "ft"

    @property
    def fewer(self) -> str:
        """What is shorter than any, in words."""
        return _("{words} than any {part}").format(words=self.words[0], part=self.part)

    @property
    def more(self) -> str:
        """What is longer than any, in words."""
        return _("{words} than any {part}").format(words=self.words[1], part=self.part)


def _knots(speed: float) -> str:
    return f"{speed / KNOT:.1f} kn"


_PRINTERS: dict[str, Callable[[float], str]] = {
    "ft": feet_inches,
    "in": inches,
    "fm": fathoms,
    "lb": pounds,
    "kn": _knots,
}
_THICK = ("thinner", "thicker")
_SIZE = ("smaller", "bigger")
_WIDE = ("narrower", "wider")

USUAL = {
    "bosom": Usual("bosom", 3 * FOOT, 80 * FOOT),
    "wing": Usual("wing", 0, 120 * FOOT),
    "headrope": Usual("headrope", 10 * FOOT, 250 * FOOT),
    "gap": Usual(gettext_lazy("gap between droppers"), 0, 60 * FOOT, _WIDE),
    "float gap": Usual(gettext_lazy("gap between floats"), 0, 40 * FOOT, _WIDE),
    "offset": Usual(gettext_lazy("distance of this kind"), 0, 30 * FOOT),
    "dropper": Usual("dropper", 6 * INCH, 120 * INCH, unit="in"),
    "chain": Usual("chain", INCH / 8, INCH, _THICK, "in"),
    "wire": Usual("wire", INCH / 8, 2 * INCH, _THICK, "in"),
    "leg": Usual("leg", FATHOM, 60 * FATHOM, unit="fm"),
    "cable": Usual(gettext_lazy("ground cable"), FATHOM, 150 * FATHOM, unit="fm"),
    "sweep": Usual("sweep", 10 * FOOT, 300 * FOOT),
    "half sweep": Usual(gettext_lazy("half of a sweep"), 5 * FOOT, 150 * FOOT),
    "float": Usual("float", 3 * INCH, 24 * INCH, _SIZE, "in"),
    "mesh": Usual("mesh", INCH / 2, 12 * INCH, _SIZE, "in"),
    "bar gap": Usual(gettext_lazy("gap between bars"), 0.01, 0.2, _WIDE, "in"),
    "grate": Usual("grate", 6 * INCH, 120 * INCH, _WIDE, "in"),
    "outlet": Usual("outlet", 6 * INCH, 120 * INCH, _WIDE, "in"),
    "vessel": Usual("vessel", 15 * FOOT, 250 * FOOT),
    "doors": Usual(gettext_lazy("spread of the doors"), 20 * FOOT, 400 * FOOT),
    "lift": Usual(gettext_lazy("lift of a float"), POUND, 40 * POUND, ("less", "more"), "lb"),
    "rope_weight": Usual(
        gettext_lazy("weight of a footrope"), 2 * POUND, 400 * POUND, ("less", "more"), "lb"
    ),
    "leg_weight": Usual(
        gettext_lazy("weight of a leg"), POUND, 300 * POUND, ("less", "more"), "lb"
    ),
    "tow": Usual(gettext_lazy("speed of a tow"), KNOT, 5 * KNOT, ("slower", "faster"), "kn"),
}
"""What is usual for each sort of part that people enter."""


OF_A_NET = {
    "bosom": "bosom",
    "port_wing": "wing",
    "starboard_wing": "wing",
    "headrope": "headrope",
    "sweep_length": "sweep",
    "dropper_spacing": "gap",
    "dropper_length": "dropper",
    "float_size": "float",
    "top_leg": "leg",
    "bottom_leg": "leg",
    "top_wire": "wire",
    "bottom_wire": "wire",
    "cable": "cable",
    "cable_wire": "wire",
    "mesh": "mesh",
    "vessel_length": "vessel",
    "bar_gap": gettext_lazy("bar gap"),
    "grate_width": "grate",
    "outlet_width": "outlet",
    "plan_length": "dropper",
    "door_spread": "doors",
    "float_lift": "lift",
    "footrope_weight": "rope_weight",
    "leg_weight": "leg_weight",
    "tow_speed": "tow",
}
"""The sort of each length that is entered of a net, by its name in ``entry``."""


def too_long(metres: float) -> str:
    """Return why a part cannot be of so many ``metres``, or nothing if it can."""
    if metres <= LONGEST:
        return ""
    return _("That is over {feet_inches}, longer than any net. Check the unit.").format(
        feet_inches=feet_inches(LONGEST)
    )


def too_heavy(kilograms: float) -> str:
    """Return why a catch cannot weigh so many ``kilograms``, or nothing if it can."""
    if kilograms <= HEAVIEST:
        return ""
    most = f"{HEAVIEST / POUND:,.0f} lb"
    return _("That is over {most}, more than any vessel here keeps. Check the unit.").format(
        most=most
    )


def question(sort: str, metres: float) -> str:
    """Return what to ask of a part of the ``sort`` that measures ``metres``; mostly nothing."""
    usual = USUAL[sort]
    if usual.least <= metres <= usual.most:
        return ""
    than = usual.more if metres > usual.most else usual.fewer
    return _("{PRINTERS} is {than} this site has seen. Check the unit.").format(
        PRINTERS=_PRINTERS[usual.unit](metres), than=than
    )
