"""Finds what a register leaves unclear, so that it is asked and not guessed."""

from collections import Counter
from typing import NamedTuple

from rigs.words.days import long_day

from ..harbors import plain
from .alike import NearNames
from .columns import unit_of
from .days import Order, order_of, read_day
from .entries import NOT_SAID
from .sizing import is_bare

MOST_WORDS = 12  # of one column: with more of them it is no column of fixed words
EXAMPLES = 3


class UnknownWord(NamedTuple):
    """A word of the column ``key`` that is not known, on how many ``rows``, and a ``guess``."""

    key: str
    text: str
    rows: int
    guess: str = ""


class Unclear(NamedTuple):
    """
    What has to be asked of a register, or can be clear by now.

    ``unit`` is the unit of bare lengths, None if it is to be asked, with some as ``lengths``;
    ``order`` the Order of its days, with lines and cells in ``days``; ``words`` not known.
    """

    unit: str | None
    lengths: list[str]
    order: Order
    days: list[tuple[int, str]]
    words: list[UnknownWord]

    @property
    def must_ask(self):
        """Whether nothing can be read before somebody has answered."""
        return self.unit is None or self.order.order is None

    @property
    def any(self):
        """Whether there is anything to ask."""
        return self.must_ask or bool(self.words)


def unclear(draft, told, reach, unit_before=""):
    """
    Return what is Unclear in ``draft``, whose columns are known, with the Vocabulary ``told``.

    ``reach`` are the harbors that whoever imports looks after, None for all; ``unit_before``
    is the unit that lengths under this heading had before.
    """
    bare, days = bare_lengths(draft), days_of(draft)
    return Unclear(
        (heading_unit(draft) or unit_before or None) if bare else "ft",
        list(dict.fromkeys(bare))[:EXAMPLES],
        order_of(cell for __, cell in days),
        days,
        [*_harbor_words(draft, told.harbors, reach), *_words(draft, told.known())],
    )


def asks_unit(draft):
    """Return whether the unit of lengths of ``draft`` is said by none of its cells or headings."""
    return bool(bare_lengths(draft)) and not heading_unit(draft)


def bare_lengths(draft):
    """Return the lengths of ``draft`` that name no unit, as they are written."""
    return [cell for __, cell in _cells(draft, "length") if is_bare(cell)]


def days_of(draft):
    """Return the days of ``draft``, as lines and cells."""
    return _cells(draft, "since")


def heading_unit(draft):
    """Return the unit that the heading of the lengths of ``draft`` says, "" for none."""
    place = draft.columns.get("length")
    return "" if place is None or place >= len(draft.headers) else unit_of(draft.headers[place])


def _cells(draft, key):
    """Return the cells of a column that hold anything, each with its line."""
    place = draft.columns.get(key)
    if place is None:
        return []
    return [
        (line, cells[place]) for line, cells in draft.rows if place < len(cells) and cells[place]
    ]


def _counted(draft, key):
    """Yield the words of a column: in lower case, as first written, on how many rows."""
    counted, spelled = Counter(), {}
    for __, cell in _cells(draft, key):
        counted[cell.casefold()] += 1
        spelled.setdefault(cell.casefold(), cell)
    return [(text, spelled[text], rows) for text, rows in counted.items()]


def _words(draft, known):
    """Return the UnknownWords of columns of fixed words, by key, that are not ``known`` there."""
    found = []
    for key, meant in known.items():
        some = [
            UnknownWord(key, spelled, rows)
            for text, spelled, rows in _counted(draft, key)
            if text not in meant and text != NOT_SAID
        ]
        found += some if len(some) <= MOST_WORDS else []
    return found


def _harbor_words(draft, spellings, reach):
    """Return the UnknownWords that may be a harbor of ``spellings`` in ``reach``."""
    names = [each for each in dict.fromkeys(spellings.values()) if reach is None or each in reach]
    by_name = NearNames()
    for name in names:
        by_name.add(name, name)
    found = [
        UnknownWord("harbor", spelled, rows, by_name.near(spelled)[0][0])
        for __, spelled, rows in _counted(draft, "harbor")
        if plain(spelled) not in spellings and by_name.near(spelled)
    ]
    return found[:MOST_WORDS]


def order_examples(found, today):
    """
    Yield (order, line, cell, day in words, how many days are yet to come) of each order.

    Each order is shown by the first cell that the orders read differently.
    """
    orders = found.order.choices
    for order in orders:
        days = [(line, cell, read_day(cell, order)) for line, cell in found.days]
        read = [each for each in days if each[2]]
        shown = next((each for each in read if _differs(each[1], orders)), read[0])
        ahead = sum(day > today for __, __, day in read)
        yield order, shown[0], shown[1], long_day(shown[2]), ahead


def _differs(cell, orders):
    return len({read_day(cell, order) for order in orders}) > 1
