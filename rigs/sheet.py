"""
A plan on one sheet of paper, to be read on deck with wet hands.

Big type, few words: what goes where, what to do in which order, what to bring. The
code in the corner leads back to the page, where everything is said in full.
"""

from datetime import date
from functools import cached_property
from io import BytesIO
from typing import NamedTuple

import segno
from PIL import Image

from .column import Column, Measured
from .drawing import png
from .drawing.plan import plan_view
from .gear import PORT, STARBOARD
from .lapse import CHECK_IT, lapse
from .paper import HEIGHT, WIDTH, Document, Picture
from .plan import Plan
from .units import feet_inches, inches, metric, pounds

_MARGIN = 34
_GUTTER = 20
_CODE = 86
_FEET = 92  # kept at the foot for the cautions
_SIZES = (14, 13, 12, 11, 10, 9)
"""Sizes of type tried, largest first, until all fits on the sheet."""

CAUTIONS = (
    "Training, not legal advice: the regulation in force, your permit and the officer on the "
    "spot decide. Ask before you cut.",
    "Rig at the quay or with the way off, winches braked, nobody in the bight or under the "
    "lift. Chain under load kills.",
)


class Sheet(NamedTuple):
    """What is printed: the net's name, its Plan, the day, and the page to lead back to."""

    name: str
    plan: Plan
    day: date
    address: str


def as_pdf(sheet):
    """Return ``sheet`` as the bytes of a PDF of one page."""
    paper = Document(f"{sheet.name}: conversion sheet")
    _Layout(sheet, paper).draw()
    return paper.data()


def as_png(sheet):
    """Return ``sheet`` as the bytes of a PNG picture."""
    paper = Picture()
    _Layout(sheet, paper).draw()
    return paper.data()


class _Layout:
    """Where everything goes."""

    def __init__(self, sheet, paper):
        self.sheet, self.plan, self.paper = sheet, sheet.plan, paper
        self.column = (WIDTH - 2 * _MARGIN - _GUTTER) / 2
        self.bottom = HEIGHT - _MARGIN - _FEET

    @cached_property
    def drawing(self):
        """The net as planned as (PNG bytes, height over width)."""
        data = png.render(plan_view(self.plan.planned), 1000)
        with Image.open(BytesIO(data)) as image:
            return data, image.height / image.width

    def draw(self):
        top = self._head()
        size = next((s for s in _SIZES if self._fits(s, top)), _SIZES[-1])
        left_out = sum(self._body(self.paper, size, top))
        data, _ = self.drawing
        self.paper.picture(data, _MARGIN, top, *self._picture_size(size))
        self._foot(left_out)

    def _fits(self, size, top):
        return not any(self._body(Measured(self.paper), size, top))

    def _picture_size(self, size):
        """Return the drawing's width and height: smaller where the text needs the room."""
        _, shape = self.drawing
        tallest = 300 if size > 11 else 230
        width = min(self.column, tallest / shape)
        return width, width * shape

    def _head(self):
        """Draw the head; return the y below it."""
        paper, plan = self.paper, self.plan
        room = WIDTH - 2 * _MARGIN - _CODE - 14
        name = self.sheet.name
        size = next((s for s in (28, 24, 20, 16) if paper.width(name, s, True) <= room), 13)
        while paper.width(name, size, True) > room:
            name = f"{name[:-2].rstrip()}…"
        paper.text(_MARGIN, _MARGIN, name, size, True)
        books = [book for book in (plan.fishery, plan.rulebook) if book is not None]
        day = f"{self.sheet.day:%B} {self.sheet.day.day}, {self.sheet.day.year}"
        lines = [
            f"{book.title}, rules version {book.version}: {book.citation}" for book in books
        ] + [f"Printed {day}"]
        for i, words in enumerate(lines):
            paper.text(_MARGIN, _MARGIN + 34 + 14 * i, words, 10)
        code = BytesIO()
        segno.make(self.sheet.address, error="m", micro=False).save(
            code, kind="png", scale=8, border=2
        )
        at = WIDTH - _MARGIN - _CODE
        paper.picture(code.getvalue(), at, _MARGIN - 8, _CODE, _CODE)
        strip = _MARGIN + 82
        paper.box(_MARGIN, strip, WIDTH - 2 * _MARGIN, 24, filled=True)
        paper.text(_MARGIN + 9, strip + 5, self._verdict_words(), 14, True, colour="white")
        return strip + 34

    def _verdict_words(self):
        broken = len(self.plan.failed)
        if self.plan.legal:
            return "Rigged like this, it keeps every rule it was held against"
        if broken:
            return f"NOT LEGAL YET: {broken} thing{'s' * (broken > 1)} still to put right"
        if self.plan.lapsed:
            return "NOT CHECKED: these rules have no version for this day"
        count = len(self.plan.obstacles)
        return f"NOT KNOWN YET: {count} thing{'s' * (count > 1)} still to measure"

    def _body(self, paper, size, top):
        """Set both columns on ``paper``; return how much each had to leave out."""
        under = top + self._picture_size(size)[1] + 4
        left = Column(paper, _MARGIN, under, self.column, self.bottom, size)
        right = Column(
            paper, _MARGIN + self.column + _GUTTER, top - 4, self.column, self.bottom, size
        )
        for book in self.plan.lapsed:
            left.say(f"{lapse(book, self.sheet.day, 'this day')} {CHECK_IT}", bold=True)
        self._places(right)
        self._store(right)
        self._steps(left)
        return left.left_out, right.left_out

    def _places(self, column):
        choices = self.plan.choices
        each = f"{inches(choices.length)} of {inches(choices.chain)} chain"
        doubled = ", two side by side" if choices.count == 2 else ""
        column.heading(f"{len(self.plan.placements)} droppers")
        column.say(f"Each {each}{doubled}, bare.", bold=True)
        shares = (0, 0.42, 0.72)
        column.row(("Where", "from centre", "from corner"), shares, bold=True)
        for place in self.plan.placements:
            side = PORT if place.position < 0 else STARBOARD
            corner = place.from_port_corner if side == PORT else place.from_starboard_corner
            column.row((_short(place), _distance(place.from_centre), _distance(corner)), shares)

    def _store(self, column):
        weights = self.plan.weights
        if self.plan.shopping:
            column.heading("From the store")
        for item in self.plan.shopping:
            column.say(_item_words(item), box=True)
        if weights.off and weights.on_droppers is not None:
            column.heading("Chain, weighed in air")
            column.say(
                f"Off {pounds(weights.off, 0)}, on {pounds(weights.on_droppers, 0)}. In sea "
                f"water: off {pounds(weights.in_water(weights.off), 0)}, on "
                f"{pounds(weights.in_water(weights.on_droppers), 0)}."
            )

    def _steps(self, column):
        column.heading("In this order")
        for number, step in enumerate(self.plan.steps, 1):
            column.say(f"{number}. {step.title}", bold=True, box=True)
            if step.kind == "set":
                column.say(step.text)

    def _foot(self, left_out):
        y = self.bottom + 8
        self.paper.line(_MARGIN, y, WIDTH - _MARGIN, y)
        column = Column(self.paper, _MARGIN, y + 4, WIDTH - 2 * _MARGIN, HEIGHT - 6, 11)
        if left_out:
            column.say("There was no room for all of it: the rest is on the page.", bold=True)
        for words in CAUTIONS:
            column.say(words, bold=True)
        column.say(self.sheet.address)


def _distance(metres):
    return feet_inches(metres) if metres else "0"


def _short(place):
    """Return the name of a place, short enough for a table."""
    if place.name == "centre":
        return "Centre"
    side = "Port" if place.position < 0 else "Starb."
    part = place.short.removeprefix("port ").removeprefix("starboard ")
    return f"{side} {part}" if part in ("corner", "wing", "wing end") else f"{side} extra"


def _item_words(item):
    """Return one line of the shopping list."""
    if item.metres is None:
        return f"{item.count} {item.what}"
    weight = "" if item.mass is None else f", {pounds(item.mass, 0)}"
    return f"{feet_inches(item.metres)} ({metric(item.metres)}) of {item.what}{weight}"
