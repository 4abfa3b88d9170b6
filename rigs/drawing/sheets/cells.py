"""Floats, chain and wire much enlarged, one beside another."""

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil

from rigs.words.gear import SIDES, GroundCable, Leg, Rig
from rigs.words.places import Spot
from rigs.words.say import gettext as _
from rigs.words.say import gettext_lazy
from rigs.words.units import INCH, inches

from ..lettering import Box
from ..scene import START, Circle, Line, Polygon, Shape, Text
from .sheet import START_X, Sheet, without

_TOP = 16
_APART = 8  # between two chains side by side
_TAPE = 28
_LINE = 14


@dataclass(frozen=True, slots=True)
class Cell:
    """
    What is in one cell: its name, the ``lines`` of words under it, the part of the rig.

    ``size`` is what is across, in metres; ``count`` such lie beside each other.
    """

    name: str
    lines: tuple[str, ...]
    part: object
    size: float
    count: int = 1


class Cells(Sheet):
    """
    Sizes across, each in a cell of its own over a piece of tape.

    A subclass says how many ``columns`` there are, how wide (``across``) and ``high`` what
    is drawn in a cell, how long its tape (``taped_to``, metres), and how many lines of
    ``words`` stand under it; and what goes into the cells.
    """

    columns = 3
    across = 112
    high = 62
    taped_to = INCH
    lines = 1

    def cells(self) -> Iterator[Cell]:
        """Yield each Cell."""
        raise NotImplementedError

    def shape(self, left: float, top: float, size: float) -> Shape:
        """Return something ``size`` units across, its left edge at ``left``."""
        raise NotImplementedError

    def body(self) -> float:
        cells = list(self.cells())
        row_high = self.high + _TAPE + self.lines * _LINE + 10
        for index, cell in enumerate(cells):
            row, column = divmod(index, self.columns)
            self._cell(START_X + column * self.across, _TOP + row * row_high, cell)
        return _TOP + ceil(len(cells) / self.columns) * row_high

    def _cell(self, left: float, top: float, cell: Cell) -> None:
        foot = top + self.high
        self.parts.append(Line(left, top - 4, left, foot, "dimension"))
        at = left
        for number in range(cell.count):
            end = at + cell.size * self.scale
            self.parts.append(self.shape(at, top, cell.size * self.scale))
            edge = _("{name}, second chain").format(name=cell.name) if number else cell.name
            self.point(at, _("left of {edge}").format(edge=edge))
            self.point(end, _("right of {edge}").format(edge=edge))
            at = end + _APART
        self.take(cell.part, Box(left - 5, top - 6, at - _APART + 5, foot - 2))
        self.parts += self.taped(left, foot, self.taped_to * self.scale)
        for number, line in enumerate(cell.lines):
            y = foot + _TAPE + 6 + number * _LINE
            self.letter(Text(left, y, line, "label-quiet", 12, START))

    def tape_below(self, y: float) -> tuple[list[Shape], float]:
        # Each cell has a tape of its own.
        return [Text(START_X, y, self.tape, "label-quiet", 12, START)], y + 20

    def number(self, count: int) -> str:
        return inches(count * self.tick).removesuffix(" in")


class Floats(Cells):
    """How large each float is."""

    name = "floats"
    title = gettext_lazy("Every float, side by side")
    keys = ("float_diameter",)
    scale = 4 / INCH
    under = 4
    tick = INCH
    numbered = 6
    tape = gettext_lazy("the small tapes count inches")
    bar = (12 * INCH, "1 ft")
    columns = 5
    across = 66
    high = 48
    taped_to = 12 * INCH

    @classmethod
    def hidden(cls, rig: Rig) -> Rig:
        return without(rig, "floats", diameter=None)

    def words(self) -> str:
        return _("{len} floats, numbered from port.").format(len=len(self.rig.floats or ()))

    def cells(self) -> Iterator[Cell]:
        for number, each in enumerate(self.rig.floats or (), 1):
            if each.diameter is not None:
                yield Cell(
                    _("float {number}").format(number=number), (str(number),), each, each.diameter
                )

    def shape(self, left: float, top: float, size: float) -> Shape:
        # The line round it lies within its size.
        return Circle(left + size / 2, top + self.high - 2 - size / 2, size / 2 - 0.5, "float")


class Chain(Cells):
    """How thick the chain of each dropper is."""

    name = "chain"
    title = gettext_lazy("The chain of every dropper, enlarged")
    keys = ("dropper_stock",)
    scale = 80 / INCH
    under = 32
    tick = INCH / 16
    numbered = 8
    tape = gettext_lazy("the small tapes count sixteenths of an inch")
    bar = (INCH, "1 in")
    high = 34
    taped_to = INCH / 2

    @classmethod
    def hidden(cls, rig: Rig) -> Rig:
        return without(rig, "droppers", diameter=None)

    def words(self) -> str:
        return _(
            "The straight side of a link from each of {len} droppers, numbered from port; "
            "two where two chains hang."
        ).format(len=len(self.rig.droppers or ()))

    def cells(self) -> Iterator[Cell]:
        for number, each in enumerate(self.rig.droppers or (), 1):
            name = f"dropper {number}"
            if each.diameter is not None:
                yield Cell(name, (name,), each, each.diameter, each.count)

    def shape(self, left: float, top: float, size: float) -> Shape:
        foot = top + self.high - 2
        return Polygon(
            ((left, top), (left + size, top), (left + size, foot), (left, foot)), "gauged"
        )


class Wires(Cells):
    """How thick legs and ground cables are."""

    name = "wires"
    title = gettext_lazy("Legs and ground cables seen end on, enlarged")
    keys = ("top_leg_wire", "bottom_leg_wire", "ground_cable_wire")
    scale = 64 / INCH
    under = 32
    tick = INCH / 16
    numbered = 8
    tape = gettext_lazy("the small tapes count sixteenths of an inch")
    bar = (INCH, "1 in")
    high = 78
    taped_to = INCH
    lines = 2

    @classmethod
    def hidden(cls, rig: Rig) -> Rig:
        rig = without(rig, "legs", top_diameter=None, bottom_diameter=None)
        return without(rig, "ground_cables", diameter=None)

    def words(self) -> str:
        return _("Top leg, bottom leg and ground cable of either side, seen end on.")

    def cells(self) -> Iterator[Cell]:
        for side in SIDES:
            leg = next(each for each in self.rig.legs if each.side == side)
            cable = next(each for each in self.rig.ground_cables if each.side == side)
            sizes: tuple[tuple[str, str, Leg | GroundCable, float | None], ...] = (
                ("top_leg_wire", _("top leg"), leg, leg.top_diameter),
                ("bottom_leg_wire", _("bottom leg"), leg, leg.bottom_diameter),
                ("ground_cable_wire", _("ground cable"), cable, cable.diameter),
            )
            for key, name, part, size in sizes:
                if size is not None:
                    yield Cell(f"{side} {name}", (side, name), (key, part), size)

    def box_of(self, spot: Spot, key: str) -> Box | None:
        # One leg has two wires, of which only one may be too thick.
        return self.taken_by((key, spot))

    def shape(self, left: float, top: float, size: float) -> Shape:
        return Circle(left + size / 2, top + self.high - 2 - size / 2, size / 2, "gauged")
