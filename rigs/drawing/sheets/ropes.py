"""Headrope and footrope laid out straight side by side."""

from rigs.words.gear import SIDES
from rigs.words.places import Spot
from rigs.words.say import gettext as _
from rigs.words.say import gettext_lazy
from rigs.words.units import FOOT, INCH

from .. import marks
from ..lettering import Box
from ..scene import END, LETTER, MIDDLE, START, Circle, Line, Text
from .sheet import START_X, Sheet

_NUMBERS, _HEAD = 36, 54
_NAMES, _FOOT = 92, 114
_HUNG = 18
_FLOAT, _KNOT = 3.6, 2.4


class Ropes(Sheet):
    """
    Where floats sit and droppers hang, and how much longer one rope is than the other.

    Their port ends are level. Floats and droppers are mere marks here.
    """

    name = "ropes"
    title = gettext_lazy("Headrope and footrope, laid out straight")
    note = gettext_lazy("Floats and droppers are only marked here, not drawn to size.")
    keys = (
        "float_spacing",
        "footrope_longer",
        "footrope_excess",
        "dropper_at_centre",
        "dropper_at_corners",
        "dropper_spacing",
    )
    scale = 1 / INCH
    zooms = (1, 2, 4)
    under = 4
    tick = FOOT
    numbered = 5
    tape = gettext_lazy("feet from the port end")
    bar = (10 * FOOT, "10 ft")

    @property
    def headrope(self) -> float:
        """The headrope's length in metres, nought if it was not measured."""
        return self.rig.headrope.length or 0.0

    def longest(self) -> float:
        return max(self.rig.footrope.length, self.headrope)

    def words(self) -> str:
        return _(
            "The headrope and the footrope side by side, their port ends level. {len} floats "
            "and {len2} droppers, numbered from port."
        ).format(len=len(self.rig.floats or ()), len2=len(self.rig.droppers or ()))

    def body(self) -> float:
        self.parts.append(Line(START_X, _HEAD - 12, START_X, _FOOT + 8, "wing-end"))
        self._headrope()
        self._footrope()
        return _FOOT + _HUNG + 20

    def _headrope(self) -> None:
        end = self.x(self.headrope)
        self.letter(Text(START_X, 14, "headrope", "label-strong", LETTER, START))
        self.parts += [
            Line(START_X, _HEAD, end, _HEAD, "headrope"),
            Line(end, _HEAD - 10, end, _HEAD + 10, "wing-end"),
        ]
        self.point(START_X, _("port end"))
        self.point(end, _("headrope's starboard end"))
        for number, each in enumerate(self.rig.floats or (), 1):
            x = self.along_headrope(each.position)
            self.parts.append(Circle(x, _HEAD, _FLOAT, "float"))
            self.letter(Text(x, _NUMBERS, str(number), "label-quiet", 12))
            self.point(x, _("float {number}").format(number=number))

    def _footrope(self) -> None:
        rope = self.rig.footrope
        end = self.x(rope.length)
        self.letter(Text(START_X, _NAMES - 20, "footrope", "label-strong", LETTER, START))
        self.parts += [
            Line(START_X, _FOOT, end, _FOOT, "footrope"),
            Line(end, _FOOT - 10, end, _FOOT + 10, "wing-end"),
        ]
        self._named("center", "center", 0.0)
        for side in SIDES:
            self._named(_("{side} corner").format(side=side), "corner", rope.corner(side))
        # Above it where the wing is so short that the corner is in the way.
        places = (_NAMES, _NAMES - 20)
        self.letter(*(Text(end, y, _("wing end"), "label", LETTER, END) for y in places))
        self.point(end, _("footrope's starboard end"))
        for number, each in enumerate(self.rig.droppers or (), 1):
            x = self.along_footrope(each.position)
            self.parts += [
                Line(x, _FOOT, x, _FOOT + _HUNG, "dropper-chain"),
                Circle(x, _FOOT, _KNOT, "dropper"),
            ]
            self.letter(Text(x, _FOOT + _HUNG + 10, str(number), "label-quiet", 12))
            self.point(x, _("dropper {number}").format(number=number))

    def _named(self, name: str, words: str, position: float) -> None:
        """Mark a place on the footrope from above; droppers hang below."""
        x = self.along_footrope(position)
        self.parts.append(Line(x, _NAMES + 8, x, _FOOT, "arrow"))
        self.letter(Text(x, _NAMES, words, "label", LETTER, MIDDLE))
        self.point(x, name)

    def along_footrope(self, position: float) -> float:
        """Return the x of a place in metres from the footrope's center."""
        return self.x(position - self.rig.footrope.port_end)

    def along_headrope(self, position: float) -> float:
        """Return the x of a place in metres from the headrope's center."""
        return self.x(position + self.headrope / 2)

    def box_of(self, spot: Spot, key: str) -> Box | None:
        if spot == "footrope":
            ends = sorted((self.x(self.headrope), self.x(self.rig.footrope.length)))
            return Box(ends[0] - 5, _HEAD - 14, ends[1] + 5, _FOOT + 14)
        on_foot = marks.along_footrope(spot, self.rig.footrope)
        if on_foot:
            left, right = map(self.along_footrope, on_foot)
            return Box(left - 6, _FOOT - 16, right + 6, _FOOT + _HUNG + 2)
        on_head = marks.along_headrope(spot, self.headrope)
        if on_head:
            left, right = map(self.along_headrope, on_head)
            return Box(left - 6, _HEAD - 9, right + 6, _HEAD + 9)
        return None
