"""A season report set on sheets of paper, as PDF."""

from rigs.column import lines
from rigs.drawing import png
from rigs.paper import HEIGHT, WIDTH, Document

from . import text

_MARGIN = 54
_WIDE = WIDTH - 2 * _MARGIN
_BOTTOM = HEIGHT - 58
_SIZE = 11
_SMALL = 9
_PICTURE = 300  # points wide
_DOTS = 1000  # pixels a picture is wide


class Flow:
    """Sets lines, pictures and tables from the top of a page down, and on to the next."""

    def __init__(self, paper, footer):
        self.paper, self.footer = paper, footer
        self.y, self.page = _MARGIN, 1
        self._foot()

    def _foot(self):
        self.paper.text(_MARGIN, HEIGHT - 40, self.footer, _SMALL, colour="#465a6b")
        number = f"page {self.page}"
        at = WIDTH - _MARGIN - self.paper.width(number, _SMALL)
        self.paper.text(at, HEIGHT - 40, number, _SMALL, colour="#465a6b")

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

    def picture(self, scene):
        """Put a drawing on the page."""
        height = _PICTURE * scene.height / scene.width
        self.need(height + 10)
        self.paper.picture(png.render(scene, _DOTS), _MARGIN, self.y, _PICTURE, height)
        self.y += height + 10

    def table(self, header, rows):
        """Write a table, the first column twice as wide as the others."""
        wide = _WIDE / (len(header) + 1)
        starts = [0, *(wide * (i + 2) for i in range(len(header) - 1))]
        for number, row in enumerate([header, *rows]):
            cells = ["not known" if cell is None else str(cell) for cell in row]
            set_out = [
                lines(self.paper, cell, _SMALL, (wide if i else 2 * wide) - 6, number == 0)
                for i, cell in enumerate(cells)
            ]
            height = max(map(len, set_out)) * _SMALL * 1.3 + 5
            self.need(height)
            for start, cell in zip(starts, set_out, strict=True):
                for i, line in enumerate(cell):
                    at = self.y + 2 + i * _SMALL * 1.3
                    self.paper.text(_MARGIN + start, at, line, _SMALL, number == 0)
            self.y += height
            self.paper.line(_MARGIN, self.y - 1, WIDTH - _MARGIN, self.y - 1, "#8a9aa5")
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
        flow.heading(section.title, 60)
        for sentence in section.sentences:
            flow.say(sentence)
        if section.figure is not None:
            flow.picture(section.figure.scene)
            if len(section.figure.header) <= 5:
                flow.table(section.figure.header, section.figure.rows)
