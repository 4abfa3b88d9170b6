"""
What a person can take along to where there is no signal: each room names its own part.

A room registers a function when the site starts; the page "Ready for sea" asks for all of it.
"""

from collections.abc import Iterator
from enum import StrEnum
from typing import NamedTuple


class What(StrEnum):
    """What a part is, in the order in which it is told; ``sea_words.js`` has the words."""

    START = "start"
    LESSON = "lessons"
    TASK = "tasks"
    NET = "nets"
    ROUND = "rounds"
    TRIP = "trip"
    SHEET = "sheets"


class Part(NamedTuple):
    """
    One thing to take along: the page at ``address``, and what else it needs.

    ``more`` are the addresses of what the page shows or leads to and is kept with it: drawings,
    prints, forms. All are paths that answer to GET alone, for who is signed in.
    """

    what: What
    title: str
    address: str
    more: tuple[str, ...] = ()


_parts = []


def part(function):
    """
    Let ``function`` name what its room has to take along; return it.

    It takes the user and the day of today, and yields a Part for each thing, in as many queries
    for many things as for few.
    """
    _parts.append(function)
    return function


def parts_for(user, today) -> Iterator[Part]:
    """Yield what ``user`` can take along on the day ``today``, in the order of What."""
    found = [each for name in _parts for each in name(user, today)]
    order = list(What)
    yield from sorted(found, key=lambda each: order.index(each.what))
