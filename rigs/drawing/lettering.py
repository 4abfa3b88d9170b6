"""
How much room lettering takes, and where it can go without covering other lettering.

Widths are reckoned for a broad sans serif face, so that text set in whatever face a
phone has takes no more room than was kept for it.
"""

import re
from collections.abc import Iterable, Iterator
from functools import lru_cache
from typing import NamedTuple

from .scene import END, LETTER, START, Text
from .styles import STYLES

_NARROW = set("iIjl.,:;'!|()/ ft")
_TIE = "\N{NO-BREAK SPACE}"
_WITHIN_MEASURE = re.compile(r"(?<=\d) (?=(?:ft|in|fm|lb|kn)\b)|(?<=ft) (?=\d)|(?<=\d) (?=\d+/\d)")
_BROAD = set("mwMW@%—")
_CAPITALS = set("CDGHNOQU")


def _ems_of(character: str) -> float:
    """Return an upper estimate of the width of ``character`` in letter sizes."""
    if character in _NARROW:
        return 0.4
    if character in _BROAD:
        return 0.95
    return 0.75 if character in _CAPITALS else 0.63


@lru_cache(maxsize=4096)
def _ems(text: str) -> float:
    return sum(map(_ems_of, text))


def text_width(text: str, size: float = LETTER, bold: bool = False) -> float:
    """Return an upper estimate of the width of ``text`` in drawing units."""
    return _ems(text) * size * (1.08 if bold else 1)


def wrap(text: str, width: float, size: float = LETTER) -> list[str]:
    """
    Return ``text`` as lines no wider than ``width``, broken between words.

    A measure such as ``3 ft 7 1/2 in`` is kept on one line, and only a word wider than a
    line is broken itself.
    """
    lines = [""]
    told = _WITHIN_MEASURE.sub(_TIE, text).split(" ")
    for word in (piece for each in told for piece in _pieces(each, width, size)):
        longer = f"{lines[-1]} {word}".strip(" ")
        if lines[-1] and text_width(longer, size) > width:
            lines.append(word)
        else:
            lines[-1] = longer
    return [line.replace(_TIE, " ") for line in lines]


def _pieces(word: str, width: float, size: float) -> Iterator[str]:
    """Yield ``word`` in pieces no wider than ``width``; a measure whole."""
    while len(word) > 1 and _TIE not in word and text_width(word, size) > width:
        end = len(word) - 1
        while end > 1 and text_width(word[:end], size) > width:
            end -= 1
        yield word[:end]
        word = word[end:]
    yield word


class Box(NamedTuple):
    """An upright rectangle."""

    left: float
    top: float
    right: float
    bottom: float

    def meets(self, other: "Box") -> bool:
        """Return whether the two rectangles overlap."""
        return (
            self.left < other.right
            and other.left < self.right
            and self.top < other.bottom
            and other.top < self.bottom
        )

    def within(self, other: "Box") -> bool:
        """Return whether this rectangle lies wholly inside ``other``."""
        return (
            other.left <= self.left
            and self.right <= other.right
            and other.top <= self.top
            and self.bottom <= other.bottom
        )


def text_box(text: Text) -> Box:
    """Return the Box that a Text takes."""
    width = text_width(text.text, text.size, STYLES[text.style].bold)
    if text.anchor == START:
        left = text.x
    elif text.anchor == END:
        left = text.x - width
    else:
        left = text.x - width / 2
    return Box(left, text.y - 0.52 * text.size, left + width, text.y + 0.52 * text.size)


class Room:
    """
    The free room on a drawing.

    Whatever has been put there is kept clear of; what finds no room is left out.
    """

    def __init__(self, bounds: Box) -> None:
        self.bounds = bounds
        self.taken: list[Box] = []

    def take(self, box: Box) -> None:
        """Keep ``box`` free of lettering from now on."""
        self.taken.append(box)

    def is_free(self, box: Box) -> bool:
        """Return whether ``box`` lies on the drawing and clear of everything."""
        if not box.within(self.bounds):
            return False
        # Box.meets, written out: drawings ask this more often than anything else.
        left, top, right, bottom = box
        for other_left, other_top, other_right, other_bottom in self.taken:
            if (
                left < other_right
                and other_left < right
                and top < other_bottom
                and other_top < bottom
            ):
                return False
        return True

    def place(self, choices: Iterable[Text]) -> Text | None:
        """
        Return the first Text of ``choices`` that finds room, and take that room.

        Return None if none does.
        """
        for text in choices:
            box = text_box(text)
            if self.is_free(box):
                self.take(box)
                return text
        return None
