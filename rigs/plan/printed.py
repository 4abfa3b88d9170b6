"""
A plan on one sheet of paper, to be read on deck with wet hands.

Big type, few words: what goes where, what to do in which order, what to bring. The
code in the corner leads back to the page, where everything is said in full.
"""

from collections.abc import Callable, Iterator
from datetime import date
from functools import cached_property, partial
from typing import NamedTuple

from PIL import Image

from rigs.drawing import png
from rigs.drawing.column import (
    Column,
    Frame,
    Measured,
    Type,
    Writable,
    fitting,
    lines,
    set_down,
    shortened,
)
from rigs.drawing.page import COLUMN, GUTTER, MARGIN, WIDE, code, foot, largest_that, strip
from rigs.drawing.paper import HEIGHT, WIDTH, Document, Paper, Picture
from rigs.drawing.plan import plan_view
from rigs.rules.lapse import CHECK_IT, lapse
from rigs.rules.wording import FROM_MEMORY
from rigs.words.cautions import CAUTIONS
from rigs.words.days import long_day
from rigs.words.gear import PORT, STARBOARD
from rigs.words.say import gettext as _
from rigs.words.units import feet_inches, inches, pounds

from . import QUARTER, Item, Placement, Plan

_CODE = 86
_BOTTOM = HEIGHT - MARGIN - 94  # of the columns: what is below is for the cautions
_SIZES = (14, 13, 12, 11, 10, 9)
"""Sizes of type tried, largest first, until all fits on the sheet."""
_SPLIT_AT = 11
"""The size down to which the steps are first tried in one column."""


class RiggingSheet(NamedTuple):
    """What is printed: the net's name, its Plan, the day, and the page to lead back to."""

    name: str
    plan: Plan
    day: date
    address: str


def as_pdf(sheet: RiggingSheet) -> bytes:
    """Return ``sheet`` as the bytes of a PDF of one page."""
    paper = Document(_("{name}: rigging sheet").format(name=sheet.name))
    _Layout(sheet, paper).draw()
    return paper.data()


def as_png(sheet: RiggingSheet) -> bytes:
    """Return ``sheet`` as the bytes of a PNG picture."""
    paper = Picture()
    _Layout(sheet, paper).draw()
    return paper.data()


class _Layout:
    """Where everything goes."""

    def __init__(self, sheet: RiggingSheet, paper: Paper) -> None:
        self.sheet, self.plan, self.paper = sheet, sheet.plan, paper

    @cached_property
    def drawing(self) -> Image.Image:
        """The net as planned."""
        return png.drawn(plan_view(self.plan.planned, finest=QUARTER), 1000)

    def draw(self) -> None:
        top = self._head()
        whole = (s for s in _SIZES if s >= _SPLIT_AT and self._fits(s, top, split=False))
        size = next(whole, None) or largest_that(lambda size: self._fits(size, top), _SIZES)
        left_out = self._body(self.paper, size, top)
        self.paper.picture(self.drawing, MARGIN, top, *self._picture_size(size))
        self._foot(left_out)

    def _fits(self, size: float, top: float, split: bool = True) -> bool:
        return not self._body(Measured(self.paper), size, top, split)

    def _picture_size(self, size: float) -> tuple[float, float]:
        """Return the drawing's width and height: smaller where the text needs the room."""
        shape = self.drawing.height / self.drawing.width
        tallest = 300 if size > 11 else 230
        width = min(COLUMN, tallest / shape)
        return width, width * shape

    def _head(self) -> float:
        """Draw the head; return the y below it."""
        paper, plan = self.paper, self.plan
        room = WIDE - _CODE - 14
        self._name(room)
        books = [book for book in (plan.fishery, plan.rulebook) if book is not None]
        y: float = MARGIN + 34
        for words in (
            *(
                _("{title}, rules version {version}: {citation}").format(
                    title=book.title, version=book.version, citation=book.citation
                )
                for book in books
            ),
            _("Rigging sheet, printed {long_day}").format(long_day=long_day(self.sheet.day)),
        ):
            y = set_down(paper, MARGIN, y, lines(paper, words, 10, room), Type(10, 13))
        at = WIDTH - MARGIN - _CODE
        paper.picture(code(self.sheet.address), at, MARGIN - 8, _CODE, _CODE)
        below = max(y, MARGIN - 8 + _CODE) + 4
        strip(paper, below, self._verdict_words(), 24, 14)
        return below + 34

    def _name(self, room: float) -> None:
        """Write the net's name, on two lines if it is long."""
        paper, name = self.paper, self.sheet.name
        size = fitting(paper, name, (28, 18), room, bold=True)
        if paper.width(name, size, True) <= room:
            paper.text(MARGIN, MARGIN - 2, name, size, True)
            return
        first, *rest = lines(paper, name, 14, room, bold=True)
        second = shortened(paper, " ".join(rest), 14, room, bold=True)
        set_down(paper, MARGIN, MARGIN - 4, (first, second), Type(14, 17, bold=True))

    def _verdict_words(self) -> str:
        broken, unknown = len(self.plan.failed), len(self.plan.unknown)
        measure = _("{things} to measure").format(things=_things(unknown))
        if broken:
            more = f", {measure}" if unknown else ""
            return _("DOES NOT MEET THE RULES YET: {things} to fix{more}").format(
                things=_things(broken), more=more
            )
        if self.plan.lapsed:
            return _("NOT CHECKED: these rules have no version for this day")
        if unknown:
            return _("NOT SURE YET: {measure}").format(measure=measure)
        return _("Rigged like this, it meets every rule this site checked")

    def _body(self, paper: Writable, size: float, top: float, split: bool = True) -> int:
        """
        Set both columns on ``paper``; return how much they had to leave out.

        With ``split``, steps that find no room below the drawing go on in the right one.
        """
        under = top + self._picture_size(size)[1] + 4
        left = Column(paper, Frame(MARGIN, under, COLUMN, _BOTTOM), size)
        right = Column(paper, Frame(MARGIN + COLUMN + GUTTER, top - 4, COLUMN, _BOTTOM), size)
        for book in self.plan.lapsed:
            left.say(
                _("{lapse} {CHECK_IT}").format(
                    lapse=lapse(book, self.sheet.day, _("this day")), CHECK_IT=CHECK_IT
                ),
                bold=True,
            )
        self._places(right)
        self._store(right)
        self._steps(left, right if split else None)
        return right.left_out if split else left.left_out + right.left_out

    def _places(self, column: Column) -> None:
        choices = self.plan.choices
        each = _("{inches} of {inches2} chain").format(
            inches=inches(choices.length), inches2=inches(choices.chain)
        )
        doubled = _(", two side by side") if choices.count == 2 else ""
        column.heading(_("{placements} droppers").format(placements=len(self.plan.placements)))
        column.say(_("Each {each}{doubled}, bare.").format(each=each, doubled=doubled), bold=True)
        column.say(self.plan.limits)
        shares = (0, 0.42, 0.72)
        column.row((_("Where"), _("from center"), _("from corner")), shares, bold=True)
        for place in self.plan.placements:
            side = PORT if place.position < 0 else STARBOARD
            corner = place.from_port_corner if side == PORT else place.from_starboard_corner
            column.row((_short(place), _distance(place.from_center), _distance(corner)), shares)

    def _store(self, column: Column) -> None:
        plan = self.plan
        if plan.shopping or plan.to_ask:
            column.heading(_("From the store"))
        for item in plan.shopping:
            column.say(_item_words(item), box=True)
        for words in plan.to_ask:
            column.say(words, bold=True)
        column.heading(_("Lift and weight"))
        column.say(plan.carry.text)
        weights = plan.weights
        if weights.off and weights.on_droppers is not None:
            column.say(
                _("Chain off {pounds}, new chain on {pounds2}, weighed in air.").format(
                    pounds=pounds(weights.off, 0), pounds2=pounds(weights.on_droppers, 0)
                )
            )

    def _steps(self, left: Column, right: Column | None) -> None:
        """Set the steps in ``left``, and in ``right``, if any, what finds no room there."""

        left.heading(_("In this order"))
        for write in self._written():
            write(left)
            if left.left_out and right:
                if left.left_out == 1:
                    right.heading(_("In this order, continued"))
                write(right)

    def _written(self) -> Iterator[Callable[[Column], None]]:
        """Yield what writes each step, and each new caution before its step, in a column."""
        cautions = set()
        for number, step in enumerate(self.plan.steps, 1):
            if step.caution and step.caution not in cautions:
                yield partial(Column.say, words=step.caution, bold=True)
                cautions.add(step.caution)
            title = f"{number}. {step.title}"
            if step.kind == "set" or step.key == "look":
                yield partial(Column.entry, title=title, words=step.text, box=True)
            else:
                yield partial(Column.say, words=title, bold=True, box=True)

    def _has_marks(self) -> bool:
        plan = self.plan
        told = (plan.limits, *plan.to_ask, *(step.text for step in plan.steps))
        return any("*" in words for words in told)

    def _foot(self, left_out: int) -> None:
        told = [(words, True) for words in CAUTIONS]
        if self._has_marks():
            told.append((FROM_MEMORY, False))
        foot(self.paper, _BOTTOM + 8, 10, left_out, [*told, (self.sheet.address, False)])


def _things(count: int) -> str:
    return _("{count} thing{value}").format(count=count, value="s" * (count != 1))


def _distance(metres: float) -> str:
    return feet_inches(metres, QUARTER) if metres else "0"


def _short(place: Placement) -> str:
    """Return the name of a place, short enough for a table."""
    if not place.position:
        return _("Center")
    side = _("Port") if place.position < 0 else _("Stbd")
    part = place.short.removeprefix("port ").removeprefix("starboard ")
    return _("{side} {value}").format(
        side=side, value=part if part in ("corner", "wing", _("wing end")) else "extra"
    )


def _item_words(item: Item) -> str:
    """Return one line of the shopping list."""
    if item.metres is None:
        return f"{item.count} {item.what}"
    weight = "" if item.mass is None else f", {pounds(item.mass, 0)}"
    return _("{feet_inches} of {what}{weight}, for {count} lengths").format(
        feet_inches=feet_inches(item.metres, 1), what=item.what, weight=weight, count=item.count
    )
