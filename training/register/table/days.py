"""Reads days as people and their programs write them; never guesses the order of day and month."""

import re
from collections.abc import Iterable
from datetime import date
from typing import NamedTuple

# Where year, month and day stand among three numbers.
ORDERS = {"mdy": (2, 0, 1), "dmy": (2, 1, 0), "ymd": (0, 1, 2)}
CLEAR = ""  # in place of an order, for what can be read in one way only

_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
_TIME = re.compile(r"[T ]\s*\d{1,2}:\d{2}(:\d{2}(\.\d+)?)?\s*(am|pm|Z)?$", re.I)
_NUMBERS = re.compile(r"(\d{1,4})\s*([-/. ])\s*(\d{1,2})\s*\2\s*(\d{1,4})\.?", re.ASCII)
_TOGETHER = re.compile(r"(\d{4})(\d{2})(\d{2})", re.ASCII)
_CENTURY = 69  # two figures up to 68 are of this century, as POSIX has it


class Order(NamedTuple):
    """
    In which order the days of a column are written.

    ``order`` is one of ORDERS, "" if none is needed and None if it is unclear; ``choices``
    are those that it may be, or that read some of them. ``index`` is that of the entry that
    shows a clear order.
    """

    order: str | None
    choices: tuple[str, ...] = ()
    index: int | None = None


def _date(year, month, day):
    if year < 100:
        year += 2000 if year < _CENTURY else 1900
    try:
        return date(year, month, day)
    except ValueError:
        return None


def _of_numbers(text):
    found = _NUMBERS.fullmatch(text)
    if not found:
        return {}
    first, __, second, third = found.groups()
    if len(first) > 2 and len(third) > 2:
        return {}
    numbers = [int(each) for each in (first, second, third)]
    if len(first) > 2:
        day = _date(*numbers) if len(first) == 4 else None
        return {CLEAR: day} if day else {}
    if len(third) == 3:
        return {}
    orders = ("mdy", "dmy") if len(third) == 4 else ORDERS
    told = {order: _date(*(numbers[place] for place in ORDERS[order])) for order in orders}
    return {order: day for order, day in told.items() if day}


def _of_words(text):
    """Return the day of an entry with the month as a word, None if it is none."""
    words = re.sub(r"(?<=\d)(st|nd|rd|th)\b", "", text.casefold())
    words = re.findall(r"[a-z]+|\d+", words)
    months = [word for word in words if word.isalpha()]
    numbers = [word for word in words if word.isdigit()]
    if len(months) != 1 or len(numbers) != 2 or months[0][:3] not in _MONTHS:
        return None
    if len(numbers[0]) == 4:
        numbers.reverse()
    if len(numbers[1]) not in (2, 4):
        return None
    return _date(int(numbers[1]), _MONTHS.index(months[0][:3]) + 1, int(numbers[0]))


def readings(text):
    """Return the days that ``text`` may be, by order; one under CLEAR; none if it is no day."""
    text = _TIME.sub("", text.strip())
    if found := _TOGETHER.fullmatch(text):
        day = _date(*(int(each) for each in found.groups()))
    else:
        day = _of_words(text)
    return {CLEAR: day} if day else _of_numbers(text)


def read_day(text, order):
    """Return the day that ``text`` is in ``order``, None if it is none."""
    found = readings(text)
    return found.get(CLEAR) or found.get(order)


def order_of(texts: Iterable[str]) -> Order:
    """
    Return the Order in which ``texts`` are written.

    It is clear if one order alone fits all of them, or if it makes no difference.
    """
    unclear = [
        (index, found)
        for index, text in enumerate(texts)
        if (found := readings(text)) and CLEAR not in found
    ]
    if not unclear:
        return Order(CLEAR)
    fitting = [order for order in ORDERS if all(order in found for __, found in unclear)]
    some = tuple(order for order in ORDERS if any(order in found for __, found in unclear))
    if not fitting:
        return Order(None, some)
    if all(len({found[order] for order in fitting}) == 1 for __, found in unclear):
        shows = (index for index, found in unclear if len(found) == 1)
        return Order(fitting[0], some, next(shows, None))
    return Order(None, tuple(fitting))
