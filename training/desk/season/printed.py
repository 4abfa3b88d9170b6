"""A season report set on sheets of paper, as PDF."""

from rigs.drawing import png
from rigs.drawing.column import lines, shortened
from rigs.drawing.palette import PRINTS
from rigs.drawing.paper import HEIGHT, WIDTH, Document

from . import text

_MARGIN = 54
_WIDE = WIDTH - 2 * _MARGIN
_BOTTOM = HEIGHT - 58
_SIZE = 11
_SMALL = 9
_TOGETHER = (_BOTTOM - _MARGIN) * 0.6  # what is higher is not kept on one page
_PICTURE = 300  # points wide
_DOTS = 1000  # pixels a picture is wide


def _drawn_height(scene):
    return _PICTURE * scene.height / scene.width


class Flow:
    """Sets lines, pictures and tables from the top of a page down, and on to the next."""

    def __init__(self, paper, footer):
        self.paper, self.footer = paper, footer
        self.y, self.page = _MARGIN, 1
        self._foot()

    def _foot(self):
        number = f"page {self.page}"
        at = WIDTH - _MARGIN - self.paper.width(number, _SMALL)
        footer = shortened(self.paper, self.footer, _SMALL, at - _MARGIN - 12)
        self.paper.text(_MARGIN, HEIGHT - 40, footer, _SMALL, color=PRINTS["foot"])
        self.paper.text(at, HEIGHT - 40, number, _SMALL, color=PRINTS["foot"])

    def need(self, height):
        """Go on to the next page unless there is room for ``height``."""
        if self.y + height > _BOTTOM:
            self.paper.new_page()
            self.page += 1
            self.y = _MARGIN
            self._foot()

    def say(self, words, size=_SIZE, bold=False, after=5):
        """Write ``words`` as a paragraph."""
        for line in lines(self.paper, words, size, _WIDE, bold):
            self.need(size * 1.35)
            self.paper.text(_MARGIN, self.y, line, size, bold)
            self.y += size * 1.35
        self.y += after

    def heading(self, words, below):
        """Write a heading, on a page that has room for ``below`` under it."""
        self.need(36 + below)
        self.y += 12
        self.say(words, 14, bold=True, after=3)

    def height(self, sentences):
        """Return how high paragraphs of ``sentences`` are."""
        return sum(
            len(lines(self.paper, words, _SIZE, _WIDE)) * _SIZE * 1.35 + 5 for words in sentences
        )

    def picture(self, scene):
        """Put a drawing on the page."""
        height = _drawn_height(scene)
        self.need(height + 10)
        self.paper.picture(png.render(scene, _DOTS), _MARGIN, self.y, _PICTURE, height)
        self.y += height + 10

    def table(self, header, rows):
        """Write a table, the first column twice as wide as the others, its header on each page."""
        wide = _WIDE / (len(header) + 1)
        starts = [0, *(wide * (i + 2) for i in range(len(header) - 1))]

        def set_out(row, bold):
            cells = ["not known" if cell is None else str(cell) for cell in row]
            return [
                lines(self.paper, cell, _SMALL, (wide if i else 2 * wide) - 6, bold)
                for i, cell in enumerate(cells)
            ]

        def height(cells):
            return max(map(len, cells)) * _SMALL * 1.3 + 5

        def write(cells, bold):
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


def as_pdf(report):
    """Return the Report as the bytes of a PDF."""
    paper = Document(text.title(report))
    set_on(paper, report)
    return paper.data()


def set_on(paper, report):
    """Set the Report on ``paper``, a Document or what takes the same calls."""
    title = text.title(report)
    flow = Flow(paper, f"{title}. As of {text.day_words(report.on)}.")
    flow.say(title, 22, bold=True)
    if report.is_demo:
        flow.say("Demo data: these people, vessels and catches are invented.", bold=True)
    for section in text.sections(report):
        below = flow.height(section.sentences)
        if section.figure is not None:
            below += _drawn_height(section.figure.scene) + 10
        flow.heading(section.title, below if below < _TOGETHER else 60)
        for sentence in section.sentences:
            flow.say(sentence)
        if section.figure is not None:
            flow.picture(section.figure.scene)
            if len(section.figure.header) <= 5:
                flow.table(section.figure.header, section.figure.rows)
