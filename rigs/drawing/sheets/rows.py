"""Chains and wires laid side by side, each from the same line."""

from collections.abc import Iterator, Sequence

from rigs.words.gear import SIDES, Rig
from rigs.words.say import gettext as _
from rigs.words.say import gettext_lazy
from rigs.words.units import FATHOM, FOOT, INCH

from ..lettering import Box
from ..scene import END, START, Line, Text
from .sheet import START_X, Sheet, without

RowLine = tuple[str, object, tuple[float, ...]]
"""The name of a line, the part of the rig or the place it is, and its lengths end to end."""


def _known(*lengths: float | None) -> tuple[float, ...]:
    return tuple(length for length in lengths if length is not None)


class Rows(Sheet):
    """Lengths one under another; a subclass names them in ``lines``."""

    note = gettext_lazy("Only lengths are to scale here, not how thick anything is.")
    row = 22
    style = "cable"
    top: int
    from_: str

    def lines(self) -> Iterator[RowLine]:
        """Yield each RowLine, in metres."""
        raise NotImplementedError

    def longest(self) -> float:
        return max(sum(row[2]) for row in self.lines())

    def body(self) -> float:
        y = self.top
        for name, spot, lengths in self.lines():
            self._line(name, spot, lengths, y)
            y += self.row
        foot = y - self.row + 12
        self.parts.insert(0, Line(START_X, self.top - 10, START_X, foot, "wing-end"))
        self.point(START_X, self.from_)
        return foot + 2

    def _line(self, name: str, spot: object, lengths: Sequence[float], y: float) -> None:
        at = 0.0
        for length in lengths:
            self.parts.append(Line(self.x(at), y, self.x(at + length), y, self.style))
            at += length
            self.parts.append(Line(self.x(at), y - 6, self.x(at), y + 6, "wing-end"))
        self.named(name, y)
        end = self.x(at)
        self.point(end, _("end of {name}").format(name=name))
        box = Box(START_X - 3, y - 9, end + 5, y + 9)
        seen = next((each for part, each in self.spans if part == spot), None)
        if seen is None:
            self.take(spot, box)
        else:  # one part, two wires: both are framed together
            self.spans = [(part, each) for part, each in self.spans if part != spot]
            self.take(spot, Box(seen.left, seen.top, max(seen.right, box.right), box.bottom))

    def named(self, name: str, y: float) -> None:
        """Write the name of a line that lies at ``y``."""
        self.letter(Text(START_X + 8, y - 13, name, "label-quiet", 12, START))


class Droppers(Rows):
    """How long each dropper is, from the footrope to its free end."""

    name = "droppers"
    title = gettext_lazy("Every dropper laid out, footrope to the left")
    keys = ("dropper_length",)
    scale = 5 / INCH
    under = 4
    tick = INCH
    numbered = 6
    tape = gettext_lazy("inches from the footrope")
    bar = (12 * INCH, "1 ft")
    top = 20
    style = "dropper-chain"
    from_ = "footrope"

    @classmethod
    def hidden(cls, rig: Rig) -> Rig:
        return without(rig, "droppers", length=None)

    def words(self) -> str:
        return _("{len} droppers one under another, numbered from port.").format(
            len=len(self.rig.droppers or ())
        )

    def lines(self) -> Iterator[RowLine]:
        for number, each in enumerate(self.rig.droppers or (), 1):
            yield _("dropper {number}").format(number=number), each, _known(each.length)

    def named(self, name: str, y: float) -> None:
        number = name.rpartition(" ")[2]
        self.letter(Text(START_X - 6, y, number, "label-quiet", 12, END))


class Legs(Rows):
    """Whether the two legs of each side are of one length."""

    name = "legs"
    title = gettext_lazy("The legs laid side by side, one end level")
    keys = ("legs_equal",)
    scale = 1 / INCH
    zooms = (1, 2, 4)
    under = 4
    row = 34
    tick = FOOT
    numbered = 5
    tape = gettext_lazy("feet from the ground cable")
    bar = (10 * FOOT, "10 ft")
    top = 32
    style = "leg"
    from_ = gettext_lazy("joint with the ground cable")

    def words(self) -> str:
        return _("Top and bottom leg of either side, one under another from the ground cable on.")

    def lines(self) -> Iterator[RowLine]:
        for leg in self.rig.legs:
            yield _("{side} top leg").format(side=leg.side), leg, _known(leg.top_length)
            yield _("{side} bottom leg").format(side=leg.side), leg, _known(leg.bottom_length)


class Doors(Rows):
    """How far it is from the door to the wing end."""

    name = "doors"
    title = gettext_lazy("From door to wing end")
    keys = ("door_to_wing_end",)
    scale = 7 / FATHOM
    zooms = (1, 2, 4)
    under = 1
    in_fathoms = True
    row = 40
    tick = FATHOM
    numbered = 5
    tape = gettext_lazy("fathoms from the door")
    bar = (10 * FATHOM, "10 fathoms")
    top = 34
    from_ = "door"

    def words(self) -> str:
        return _("On either side the ground cable from the door, and the longer leg after it.")

    def lines(self) -> Iterator[RowLine]:
        for side in SIDES:
            cable = next(each for each in self.rig.ground_cables if each.side == side)
            leg = next(each for each in self.rig.legs if each.side == side)
            lengths = _known(cable.length, max(_known(leg.top_length, leg.bottom_length)))
            yield (
                _("{side} ground cable and leg").format(side=side),
                _("{side} side").format(side=side),
                lengths,
            )
