"""Text set in columns on a sheet of paper: see ``paper``."""

import re
from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple, Protocol

_TIED = re.compile(r"(?<=\d) (?=(?:ft|in|fm|lb|m)\b)|(?<=ft) (?=\d)|(?<=\d) (?=\d+/\d)| (?=\*)")
"""Spaces at which no line ends: within a measure, and before the mark of a limit."""

_BOX = 1.6  # sizes of type that a box to tick takes, with the gap after it


class Writable(Protocol):
    """What text is set on: the sheets of ``paper`` are, and Measured stands in for them."""

    def width(self, words: str, size: float, bold: bool = False) -> float:
        """Return how wide ``words`` are, in points."""

    def text(self, x: float, y: float, words: str, size: float, bold: bool = False) -> None:
        """Write one line of ``words`` with its top at ``y``."""

    def box(self, x: float, y: float, width: float, height: float) -> None:
        """Draw a rectangle."""

    def line(self, x1: float, y1: float, x2: float, y2: float) -> None:
        """Draw a thin line."""


def shortened(paper: Writable, words: str, size: float, room: float, bold: bool = False) -> str:
    """Return ``words``, with an ellipsis for what does not fit into ``room`` points."""
    if paper.width(words, size, bold) <= room:
        return words
    while words and paper.width(f"{words}…", size, bold) > room:
        words = words[:-1].rstrip()
    return f"{words}…"


def fitting(
    paper: Writable, words: str, sizes: tuple[float, float], room: float, bold: bool = False
) -> float:
    """Return the size, of those from the largest to the least, at which ``words`` fit ``room``."""
    size, least = sizes
    while size > least and paper.width(words, size, bold) > room:
        size -= 0.5
    return size


def _pieces(paper: Writable, word: str, size: float, room: float, bold: bool) -> Iterator[str]:
    """Yield ``word`` in pieces no wider than ``room``: whole, unless it is wider by itself."""
    while len(word) > 1 and paper.width(word, size, bold) > room:
        end = len(word) - 1
        while end > 1 and paper.width(word[:end], size, bold) > room:
            end -= 1
        yield word[:end]
        word = word[end:]
    yield word


def lines(paper: Writable, words: str, size: float, room: float, bold: bool = False) -> list[str]:
    """
    Return ``words`` as lines no wider than ``room`` points, broken between words.

    A measure such as ``3 ft 7 1/2 in`` stays together, and only a word wider than a line
    is broken itself.
    """
    found = [""]
    for word in _TIED.sub("\u00a0", words).split(" "):
        for piece in _pieces(paper, word, size, room, bold):
            longer = f"{found[-1]} {piece}".strip()
            if found[-1] and paper.width(longer, size, bold) > room:
                found.append(piece)
            else:
                found[-1] = longer
    return found


class Type(NamedTuple):
    """How lines are set: the size of their letters, and from one line to the next, in points."""

    size: float
    leading: float
    bold: bool = False


def set_down(paper: Writable, x: float, y: float, words: Iterable[str], type: Type) -> float:
    """Write ``words``, a line each, from ``y`` down; return the y below them."""
    for line in words:
        paper.text(x, y, line, type.size, type.bold)
        y += type.leading
    return y


class Measured:
    """Stands in for a paper to find out whether everything fits on it."""

    def __init__(self, paper: Writable) -> None:
        self.width = paper.width

    def text(self, *args: object, **options: object) -> None:
        """Write nothing."""

    box = line = text


class Frame(NamedTuple):
    """Where a column stands: from ``x``, so wide, and from ``y`` down to ``bottom``."""

    x: float
    y: float
    width: float
    bottom: float


class Column:
    """Text of one ``size``, set from the top of a frame down, as far as there is room."""

    def __init__(self, paper: Writable, frame: Frame, size: float) -> None:
        self.paper, self.size = paper, size
        self.x, self.y, self.width, self.bottom = frame
        self.left_out = 0

    def _lines(self, words: str, indent: float, bold: bool = False) -> list[str]:
        return lines(self.paper, words, self.size, self.width - indent, bold)

    def _take(self, height: float) -> float | None:
        """Return the y of a piece so high, or None if there is no room for it."""
        if self.left_out or self.y + height > self.bottom:
            self.left_out += 1
            return None
        y, self.y = self.y, self.y + height
        return y

    def heading(self, words: str) -> None:
        """Write ``words`` as a heading, where there is room for a line or two below it."""
        below = self.size * 2.8
        self.bottom -= below
        y = self._take(self.size * 1.9)
        self.bottom += below
        if y is not None:
            self.paper.text(self.x, y + self.size * 0.45, words, self.size * 1.1, True)
            self.paper.line(self.x, y + self.size * 1.75, self.x + self.width, y + self.size * 1.75)

    def entry(self, title: str, words: str, box: bool = False) -> None:
        """Write ``words`` under a bold ``title``: both here, or both left out."""
        indent = self.size * _BOX if box else 0
        set_out = len(self._lines(title, indent, True)) + len(self._lines(words, 0))
        if self.y + (set_out * 1.2 + 0.6) * self.size > self.bottom:
            self.left_out += 1
            return
        self.say(title, bold=True, box=box)
        self.say(words)

    def say(self, words: str, bold: bool = False, box: bool = False) -> None:
        """Write ``words``, with a box to tick before them if ``box``."""
        indent = self.size * _BOX if box else 0
        set_out = self._lines(words, indent, bold)
        y = self._take(len(set_out) * self.size * 1.2 + self.size * 0.3)
        if y is None:
            return
        if box:
            self.paper.box(self.x, y + self.size * 0.2, self.size * 0.95, self.size * 0.95)
        for i, line in enumerate(set_out):
            self.paper.text(
                self.x + indent, y + self.size * (0.25 + 1.2 * i), line, self.size, bold
            )

    def row(self, cells: Sequence[str], shares: Sequence[float], bold: bool = False) -> None:
        """Write ``cells`` side by side, each from its share of the width to that of the next."""
        y = self._take(self.size * 1.45)
        if y is None:
            return
        ends = (*shares[1:], 1)
        for cell, share, end in zip(cells, shares, ends, strict=True):
            room = (end - share) * self.width - self.size * 0.3
            size = fitting(self.paper, cell, (self.size, self.size * 0.75), room, bold)
            words = shortened(self.paper, cell, size, room, bold)
            at = self.x + share * self.width
            self.paper.text(at, y + self.size * 1.1 - size * 0.8, words, size, bold)
        self.paper.line(self.x, y + self.size * 1.42, self.x + self.width, y + self.size * 1.42)
