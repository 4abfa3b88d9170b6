"""
What a print is made of, piece by piece: headings, sentences, tables, boxes to write in.

A Block knows how high it is at a width and draws itself there; ``setting`` puts blocks one
below the other, over as many columns and pages as they need. Sizes are points.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import ClassVar, Protocol

from PIL import Image

from .column import Type, lines, set_down
from .palette import PRINTS
from .paper import Paper

LEADING = 1.2
"""From one line to the next, in sizes of type."""

PENCIL = 24.0
"""The least height of a box to write in: a third of an inch, for a pencil on deck (common
practice, no source)."""

Stroke = Sequence[tuple[float, float]]
"""A line drawn by hand, as points (x, y)."""


class Block(Protocol):
    """A piece of a print, set whole."""

    @property
    def keeps(self) -> bool:
        """Whether it stays with the piece after it, as a heading does."""

    def height(self, paper: Paper, width: float) -> float:
        """Return how high it is at ``width``."""

    def draw(self, paper: Paper, x: float, y: float, width: float) -> None:
        """Draw it with its top left corner at (``x``, ``y``)."""


@dataclass(frozen=True, slots=True)
class Said:
    """A paragraph, with ``after`` below it."""

    words: str
    size: float = 10
    bold: bool = False
    after: float = 3
    keeps: bool = False

    def _lines(self, paper: Paper, width: float) -> list[str]:
        return lines(paper, self.words, self.size, width, self.bold)

    def height(self, paper: Paper, width: float) -> float:
        return len(self._lines(paper, width)) * self.size * LEADING + self.after

    def draw(self, paper: Paper, x: float, y: float, width: float) -> None:
        type = Type(self.size, self.size * LEADING, self.bold)
        set_down(paper, x, y, self._lines(paper, width), type)


@dataclass(frozen=True, slots=True)
class Heading:
    """A heading with a rule below it: it never stands alone at the foot of a column."""

    words: str
    size: float = 11.5
    keeps: bool = True

    @property
    def _said(self) -> Said:
        return Said(self.words, self.size, bold=True, after=0)

    def height(self, paper: Paper, width: float) -> float:
        return self._said.height(paper, width) + 14

    def draw(self, paper: Paper, x: float, y: float, width: float) -> None:
        self._said.draw(paper, x, y + 7, width)
        below = y + 8.5 + self._said.height(paper, width)
        paper.line(x, below, x + width, below)


@dataclass(frozen=True, slots=True)
class Together:
    """Blocks that are not parted."""

    blocks: tuple[Block, ...]
    keeps: bool = False

    def height(self, paper: Paper, width: float) -> float:
        return sum(each.height(paper, width) for each in self.blocks)

    def draw(self, paper: Paper, x: float, y: float, width: float) -> None:
        for each in self.blocks:
            each.draw(paper, x, y, width)
            y += each.height(paper, width)


@dataclass(frozen=True, slots=True)
class Beside:
    """Blocks side by side, each as wide as the others."""

    blocks: tuple[Block, ...]
    keeps: bool = False

    APART: ClassVar[float] = 10.0

    def _wide(self, width: float) -> float:
        return (width - self.APART * (len(self.blocks) - 1)) / len(self.blocks)

    def height(self, paper: Paper, width: float) -> float:
        return max(each.height(paper, self._wide(width)) for each in self.blocks)

    def draw(self, paper: Paper, x: float, y: float, width: float) -> None:
        wide = self._wide(width)
        for each in self.blocks:
            each.draw(paper, x, y, wide)
            x += wide + self.APART


@dataclass(frozen=True, slots=True)
class RowCell:
    """What stands in a table, ``struck`` through if it was taken back."""

    words: str
    struck: bool = False


@dataclass(frozen=True, slots=True)
class Row:
    """
    A row of a table; ``shares`` are how much of the width each cell has, together 1.

    A row of a ``head`` stays with the row after it.
    """

    cells: tuple[RowCell, ...]
    shares: tuple[float, ...]
    size: float = 9
    head: bool = False

    @property
    def keeps(self) -> bool:
        return self.head

    def _set_out(self, paper: Paper, width: float) -> list[list[str]]:
        return [
            lines(paper, cell.words, self.size, share * width - 6, self.head)
            for cell, share in zip(self.cells, self.shares, strict=True)
        ]

    def height(self, paper: Paper, width: float) -> float:
        return max(map(len, self._set_out(paper, width))) * self.size * LEADING + 6

    def draw(self, paper: Paper, x: float, y: float, width: float) -> None:
        below = y + self.height(paper, width) - 1
        at = x
        for cell, share, set_out in zip(
            self.cells, self.shares, self._set_out(paper, width), strict=True
        ):
            for number, line in enumerate(set_out):
                top = y + 2 + number * self.size * LEADING
                paper.text(at, top, line, self.size, self.head)
                if cell.struck and line:
                    middle = top + self.size * 0.55
                    paper.line(at, middle, at + paper.width(line, self.size), middle, weight=0.9)
            at += share * width
        paper.line(x, below, x + width, below, PRINTS["rule"])


@dataclass(frozen=True, slots=True)
class ToWrite:
    """A ``label`` with boxes to write in below it, ``hint`` (such as a unit) in each of them."""

    label: str
    boxes: int = 1
    across: int = 1
    hint: str = ""
    size: float = 9.5
    high: float = PENCIL
    keeps: bool = False

    def _label(self) -> Said:
        return Said(self.label, self.size, after=2)

    @property
    def _rows(self) -> int:
        return -(-self.boxes // self.across)

    def height(self, paper: Paper, width: float) -> float:
        label = self._label().height(paper, width) if self.label else 0
        return label + self._rows * (self.high + 3) + 5

    def draw(self, paper: Paper, x: float, y: float, width: float) -> None:
        if self.label:
            self._label().draw(paper, x, y, width)
            y += self._label().height(paper, width)
        wide = (width - 3 * (self.across - 1)) / self.across
        for number in range(self.boxes):
            left = x + number % self.across * (wide + 3)
            top = y + number // self.across * (self.high + 3)
            paper.box(left, top, wide, self.high, weight=0.6)
            small = self.size * 0.75
            right = left + wide - paper.width(self.hint, small) - 3
            paper.text(right, top + self.high - small * 1.25, self.hint, small)


@dataclass(frozen=True, slots=True)
class ToTick:
    """A ``label`` and boxes to tick, each before one of ``answers``."""

    label: str
    answers: tuple[str, ...]
    size: float = 9.5
    keeps: bool = False

    BOX: ClassVar[float] = 13.0

    def _label(self) -> Said:
        return Said(self.label, self.size, after=3)

    def height(self, paper: Paper, width: float) -> float:
        return self._label().height(paper, width) + self.BOX + 8

    def draw(self, paper: Paper, x: float, y: float, width: float) -> None:
        self._label().draw(paper, x, y, width)
        y += self._label().height(paper, width)
        for answer in self.answers:
            paper.box(x, y, self.BOX, self.BOX, weight=0.8)
            paper.text(x + self.BOX + 4, y + 1.5, answer, self.size)
            x += self.BOX + 4 + paper.width(answer, self.size) + 14


@dataclass(frozen=True, slots=True)
class Lined:
    """Room to write freely: so many lines, far enough apart for a pencil."""

    lines: int
    keeps: bool = False

    def height(self, paper: Paper, width: float) -> float:
        return self.lines * PENCIL + 4

    def draw(self, paper: Paper, x: float, y: float, width: float) -> None:
        for __ in range(self.lines):
            y += PENCIL
            paper.line(x, y, x + width, y, PRINTS["rule"])


@dataclass(frozen=True, slots=True)
class Drawn:
    """
    What somebody drew on a glass, such as a signature, over a rule and the words below it.

    The ``strokes`` lie in a field of ``size``, (width, height), and are scaled to ``high``.
    """

    strokes: tuple[Stroke, ...]
    size: tuple[float, float]
    words: str
    high: float = 54
    keeps: bool = False

    def _words(self) -> Said:
        return Said(self.words, 9, after=4)

    def height(self, paper: Paper, width: float) -> float:
        return self.high + 3 + self._words().height(paper, width)

    def draw(self, paper: Paper, x: float, y: float, width: float) -> None:
        scale = min(width / self.size[0], self.high / self.size[1])
        for stroke in self.strokes:
            for (x1, y1), (x2, y2) in zip(stroke, stroke[1:], strict=False):
                paper.line(
                    x + x1 * scale, y + y1 * scale, x + x2 * scale, y + y2 * scale, weight=1.1
                )
        paper.line(x, y + self.high, x + width, y + self.high)
        self._words().draw(paper, x, y + self.high + 3, width)


@dataclass(frozen=True, slots=True)
class Strip:
    """Words in white on a dark strip: what matters most on the sheet."""

    words: str
    size: float = 12
    keeps: bool = False

    def _lines(self, paper: Paper, width: float) -> list[str]:
        return lines(paper, self.words, self.size, width - 20, bold=True)

    def height(self, paper: Paper, width: float) -> float:
        return len(self._lines(paper, width)) * self.size * LEADING + 16

    def draw(self, paper: Paper, x: float, y: float, width: float) -> None:
        paper.box(x, y, width, self.height(paper, width) - 6, filled=True)
        for number, line in enumerate(self._lines(paper, width)):
            top = y + 5 + number * self.size * LEADING
            paper.text(x + 10, top, line, self.size, True, color="white")


@dataclass(frozen=True, slots=True)
class Framed:
    """Words in a frame: a notice that must not be missed."""

    words: str
    size: float = 10
    bold: bool = False
    keeps: bool = False

    def _said(self) -> Said:
        return Said(self.words, self.size, self.bold, after=0)

    def height(self, paper: Paper, width: float) -> float:
        return self._said().height(paper, width - 16) + 16

    def draw(self, paper: Paper, x: float, y: float, width: float) -> None:
        paper.box(x, y, width, self.height(paper, width) - 6, weight=1.2)
        self._said().draw(paper, x + 8, y + 5, width - 16)


@dataclass(frozen=True, slots=True)
class Code:
    """A code to scan, and the words beside it."""

    image: Image.Image
    words: str
    wide: float = 76
    keeps: bool = False

    def _said(self) -> Said:
        return Said(self.words, 9.5, after=0)

    def height(self, paper: Paper, width: float) -> float:
        return max(self.wide, self._said().height(paper, width - self.wide - 8)) + 6

    def draw(self, paper: Paper, x: float, y: float, width: float) -> None:
        paper.picture(self.image, x, y, self.wide, self.wide)
        self._said().draw(paper, x + self.wide + 8, y + 4, width - self.wide - 8)


@dataclass(frozen=True, slots=True)
class NewPage:
    """What comes after it begins on a page of its own; draws nothing."""

    keeps: bool = False

    def height(self, paper: Paper, width: float) -> float:
        return 0

    def draw(self, paper: Paper, x: float, y: float, width: float) -> None:
        """Draw nothing."""
