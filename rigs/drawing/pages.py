"""Text, drawings and tables that run over as many pages as they need, each with its foot."""

from collections.abc import Iterable, Sequence

from rigs.words.say import gettext as _

from . import png
from .column import lines, shortened
from .palette import PRINTS
from .paper import HEIGHT, WIDTH, Document
from .scene import Scene

_MARGIN = 54
_WIDE = WIDTH - 2 * _MARGIN
_BOTTOM = HEIGHT - 58
_SIZE = 11
_SMALL = 9
TALLEST = _BOTTOM - _MARGIN - 40
"""What is higher, in points, finds no room on one page under a heading."""
_TALLEST_PICTURE = TALLEST - 60

_PICTURE = 300  # points wide
_DOTS = 1000  # pixels a picture is wide


def _drawn_width(scene: Scene) -> float:
    return min(_PICTURE, _TALLEST_PICTURE * scene.width / scene.height)


def drawn_height(scene: Scene) -> float:
    """Return how high a drawing is on a page, in points, with room left for a few words."""
    return _drawn_width(scene) * scene.height / scene.width


class Pages:
    """
    Sets lines, pictures and tables from the top of a page down, and on to the next.

    Every page has ``footer`` at its foot and ``mark``, if any, at its top.
    """

    def __init__(self, paper: Document, footer: str, mark: str = "") -> None:
        self.paper, self.footer, self.mark = paper, footer, mark
        self.y: float = _MARGIN
        self.page = 1
        self._foot()

    def _foot(self) -> None:
        number = _("page {page}").format(page=self.page)
        at = WIDTH - _MARGIN - self.paper.width(number, _SMALL)
        footer = shortened(self.paper, self.footer, _SMALL, at - _MARGIN - 12)
        self.paper.text(_MARGIN, HEIGHT - 40, footer, _SMALL, color=PRINTS["foot"])
        self.paper.text(at, HEIGHT - 40, number, _SMALL, color=PRINTS["foot"])
        if self.mark:
            self.paper.text(_MARGIN, _MARGIN / 2, self.mark, _SMALL, True)

    def need(self, height: float) -> None:
        """Go on to the next page unless there is room for ``height``."""
        if self.y + height > _BOTTOM:
            self.paper.new_page()
            self.page += 1
            self.y = _MARGIN
            self._foot()

    def say(self, words: str, size: float = _SIZE, bold: bool = False, after: float = 5) -> None:
        """Write ``words`` as a paragraph."""
        for line in lines(self.paper, words, size, _WIDE, bold):
            self.need(size * 1.35)
            self.paper.text(_MARGIN, self.y, line, size, bold)
            self.y += size * 1.35
        self.y += after

    def heading(self, words: str, below: float) -> None:
        """Write a heading, on a page that has room for ``below`` under it."""
        self.need(36 + below)
        self.y += 12
        self.say(words, 14, bold=True, after=3)

    def height(self, sentences: Iterable[str]) -> float:
        """Return how high paragraphs of ``sentences`` are."""
        return sum(
            len(lines(self.paper, words, _SIZE, _WIDE)) * _SIZE * 1.35 + 5 for words in sentences
        )

    def picture(self, scene: Scene) -> None:
        """Put a drawing on the page."""
        height = drawn_height(scene)
        self.need(height + 10)
        self.paper.picture(png.drawn(scene, _DOTS), _MARGIN, self.y, _drawn_width(scene), height)
        self.y += height + 10

    def table(self, header: Sequence[str], rows: Sequence[Sequence[object]]) -> None:
        """Write a table, the first column twice as wide as the others, its header on each page."""
        head = self._cells(header, True)
        page = None
        for row in rows:
            cells = self._cells(row)
            self.need(_high(cells) + (_high(head) if page is None else 0))
            if page != self.page:
                self._write(head, True)
                page = self.page
            self._write(cells)
        if not rows:
            self.need(_high(head))
            self._write(head, True)
        self.y += 8

    def table_height(self, header: Sequence[str], rows: Sequence[Sequence[object]]) -> float:
        """Return how high a table is that finds room on one page."""
        return 8 + _high(self._cells(header, True)) + sum(_high(self._cells(row)) for row in rows)

    def _cells(self, row: Sequence[object], bold: bool = False) -> list[list[str]]:
        """Return the lines of each cell of ``row``."""
        wide = _WIDE / (len(row) + 1)
        cells = [_("not known") if cell is None else str(cell) for cell in row]
        return [
            lines(self.paper, cell, _SMALL, (wide if i else 2 * wide) - 6, bold)
            for i, cell in enumerate(cells)
        ]

    def _write(self, cells: list[list[str]], bold: bool = False) -> None:
        wide = _WIDE / (len(cells) + 1)
        for i, cell in enumerate(cells):
            start = _MARGIN + (wide * (i + 1) if i else 0)
            for number, line in enumerate(cell):
                at = self.y + 2 + number * _SMALL * 1.3
                self.paper.text(start, at, line, _SMALL, bold)
        self.y += _high(cells)
        self.paper.line(_MARGIN, self.y - 1, WIDTH - _MARGIN, self.y - 1, PRINTS["rule"])


def _high(cells: list[list[str]]) -> float:
    return max(map(len, cells)) * _SMALL * 1.3 + 5
