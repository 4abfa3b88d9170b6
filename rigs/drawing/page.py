"""
What prints for the deck share: edges, a dark strip, two columns, cautions at the foot.

Sizes and places are points on a ``paper``; see there.
"""

from collections.abc import Callable, Iterable, Sequence
from io import BytesIO

import segno
from PIL import Image

from rigs.words.say import gettext_lazy

from .column import Column, Frame, fitting
from .paper import HEIGHT, WIDTH, Paper

MARGIN, GUTTER = 34, 20
WIDE = WIDTH - 2 * MARGIN
COLUMN = (WIDE - GUTTER) / 2
"""How wide each of two columns is."""

FULL = gettext_lazy("More on the website: this page was full.")

_EDGE = 6  # below the foot, where printers leave off


def strip(paper: Paper, y: float, words: str, height: float, largest: int) -> None:
    """Write ``words`` white on a dark strip across the page, no larger than ``largest``."""
    indent = height / 2 - 3
    size = fitting(paper, words, (largest, largest - 4), WIDE - 2 * indent, bold=True)
    paper.box(MARGIN, y, WIDE, height, filled=True)
    paper.text(MARGIN + indent, y + 5, words, size, True, color="white")


def foot(
    paper: Paper, y: float, size: float, left_out: int, words: Iterable[tuple[str, bool]]
) -> None:
    """
    Rule off the page at ``y`` and write below it, ``words`` as (sentence, whether bold).

    Says first that there is more on the site if anything was ``left_out``.
    """
    paper.line(MARGIN, y, WIDTH - MARGIN, y)
    column = Column(paper, Frame(MARGIN, y + 4, WIDE, HEIGHT - _EDGE), size)
    if left_out:
        column.say(FULL, bold=True)
    for sentence, bold in words:
        column.say(sentence, bold=bold)


def largest_that(fits: Callable[[int], bool], sizes: Sequence[int]) -> int:
    """Return the first of ``sizes`` of type that ``fits``, or the last if none does."""
    return next((size for size in sizes if fits(size)), sizes[-1])


def code(address: str, dark: str = "black") -> Image.Image:
    """Return a code to scan that leads to ``address``."""
    data = BytesIO()
    segno.make(address, error="m", micro=False).save(data, kind="png", scale=8, border=2, dark=dark)
    return Image.open(data)
