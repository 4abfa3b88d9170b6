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
TALLEST = (_BOTTOM - _MARGIN) * 0.6
"""What is higher, in points, is not kept together on one page."""

_PICTURE = 300  # points wide
_DOTS = 1000  # pixels a picture is wide


def drawn_height(scene: Scene) -> float:
    """Return how high a drawing is on a page, in points."""
    return _PICTURE * scene.height / scene.width


class Pages:
    """Sets lines, pictures and tables from the top of a page down, and on to the next."""

    def __init__(self, paper: Document, footer: str) -> None:
        self.paper, self.footer = paper, footer
        self.y: float = _MARGIN
        self.page = 1
        self._foot()

    def _foot(self) -> None:
        number = _("page {page}").format(page=self.page)
        at = WIDTH - _MARGIN - self.paper.width(number, _SMALL)
        footer = shortened(self.paper, self.footer, _SMALL, at - _MARGIN - 12)
        self.paper.text(_MARGIN, HEIGHT - 40, footer, _SMALL, color=PRINTS["foot"])
        self.paper.text(at, HEIGHT - 40, number, _SMALL, color=PRINTS["foot"])

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
        self.paper.picture(png.render(scene, _DOTS), _MARGIN, self.y, _PICTURE, height)
        self.y += height + 10

    def table(self, header: Sequence[str], rows: Iterable[Sequence[object]]) -> None:
        """Write a table, the first column twice as wide as the others, its header on each page."""
        wide = _WIDE / (len(header) + 1)
        starts = [0, *(wide * (i + 2) for i in range(len(header) - 1))]

        def set_out(row: Sequence[object], bold: bool) -> list[list[str]]:
            cells = [_("not known") if cell is None else str(cell) for cell in row]
            return [
                lines(self.paper, cell, _SMALL, (wide if i else 2 * wide) - 6, bold)
                for i, cell in enumerate(cells)
            ]

        def height(cells: list[list[str]]) -> float:
            return max(map(len, cells)) * _SMALL * 1.3 + 5

        def write(cells: list[list[str]], bold: bool) -> None:
            for start, cell in zip(starts, cells, strict=True):
                for i, line in enumerate(cell):
                    at = self.y + 2 + i * _SMALL * 1.3
                    self.paper.text(_MARGIN + start, at, line, _SMALL, bold)
            self.y += height(cells)
            self.paper.line(_MARGIN, self.y - 1, WIDTH - _MARGIN, self.y - 1, PRINTS["rule"])

        head = set_out(header, True)
        page = None
        for row in rows:
            cells = set_out(row, False)
            self.need(height(cells) + (height(head) if page is None else 0))
            if page != self.page:
                write(head, True)
                page = self.page
            write(cells, False)
        if not rows:
            self.need(height(head))
            write(head, True)
        self.y += 8
