"""Blocks set one below the other, in one column or two, over as many pages as they need."""

from collections.abc import Iterable, Sequence

from rigs.words.say import gettext as _

from .blocks import Block, NewPage, Row, Said
from .column import shortened
from .page import GUTTER, MARGIN, WIDE
from .palette import PRINTS
from .paper import HEIGHT, WIDTH, Document

_SMALL = 8.5
_TOP = 40.0


class Setting:
    """
    Sets blocks on a Document from the top of a page down, and on to the next.

    Each page has ``footer`` and its number at the foot, and ``cautions`` above it.
    """

    def __init__(self, paper: Document, footer: str, cautions: Sequence[str] = ()) -> None:
        self.paper, self.footer = paper, footer
        self.cautions = [Said(each, _SMALL, after=1.5) for each in cautions]
        self.page = 1
        below = sum(each.height(paper, WIDE) for each in self.cautions)
        self.bottom = HEIGHT - 38 - below
        self.y = _TOP
        self._foot()

    def _foot(self) -> None:
        y = self.bottom + 5
        self.paper.line(MARGIN, y, WIDTH - MARGIN, y, PRINTS["rule"])
        y += 3
        for each in self.cautions:
            each.draw(self.paper, MARGIN, y, WIDE)
            y += each.height(self.paper, WIDE)
        number = _("page {page}").format(page=self.page)
        at = WIDTH - MARGIN - self.paper.width(number, _SMALL)
        words = shortened(self.paper, self.footer, _SMALL, at - MARGIN - 12)
        self.paper.text(MARGIN, HEIGHT - 25, words, _SMALL, color=PRINTS["foot"])
        self.paper.text(at, HEIGHT - 25, number, _SMALL, color=PRINTS["foot"])

    def _turn(self) -> None:
        self.paper.new_page()
        self.page += 1
        self.y = _TOP
        self._foot()

    def across(self, blocks: Iterable[Block]) -> None:
        """Set ``blocks`` over the whole width; the head of a table comes again on each page."""
        head = None
        for group in _kept(blocks):
            if isinstance(group[0], NewPage):
                self._turn()
                continue
            is_row = isinstance(group[-1], Row)
            head = next((each for each in group if isinstance(each, Row) and each.head), head)
            if self.y + self._high(group, WIDE) > self.bottom:
                self._turn()
                if is_row and head is not None and head not in group:
                    group = [head, *group]
            for each in group:
                each.draw(self.paper, MARGIN, self.y, WIDE)
                self.y += each.height(self.paper, WIDE)
            head = head if is_row else None

    def _high(self, group: Sequence[Block], width: float) -> float:
        return sum(each.height(self.paper, width) for each in group)

    def in_columns(self, blocks: Iterable[Block]) -> None:
        """
        Set ``blocks`` in two columns, the first filled first, of even height on the last page.
        """
        waiting = list(_kept(blocks))
        wide = (WIDE - GUTTER) / 2
        while waiting:
            room = self.bottom - self.y
            if self._high(waiting[0], wide) > room:
                self._turn()
                room = self.bottom - self.y
            height = self._even(waiting, wide, room)
            top, deepest = self.y, self.y
            for x in (MARGIN, MARGIN + wide + GUTTER):
                y = top
                while waiting:
                    below = y + self._high(waiting[0], wide)
                    # What is higher than a whole page would find no more room on the next.
                    if below > top + height and not y == top == _TOP:
                        break
                    for each in waiting.pop(0):
                        each.draw(self.paper, x, y, wide)
                        y += each.height(self.paper, wide)
                deepest = max(deepest, y)
            self.y = deepest
            if waiting:
                self._turn()

    def _even(self, groups: Sequence[Sequence[Block]], wide: float, room: float) -> float:
        """Return the least height at which two columns hold all ``groups``, ``room`` at most."""
        heights = [self._high(group, wide) for group in groups]

        def holds(height: float) -> bool:
            columns, y = 1, 0.0
            for high in heights:
                if y + high > height and y:
                    columns, y = columns + 1, 0.0
                y += high
            return columns <= 2

        if not holds(room):
            return room
        low, high = max(sum(heights) / 2, *heights), room
        while high - low > 4:
            middle = (low + high) / 2
            low, high = (low, middle) if holds(middle) else (middle, high)
        return high


def _kept(blocks: Iterable[Block]) -> Iterable[list[Block]]:
    """Yield ``blocks`` in groups that are not parted: each with those that keep to it before."""
    group: list[Block] = []
    for each in blocks:
        group.append(each)
        if not each.keeps:
            yield group
            group = []
    if group:
        yield group
