"""
What a person can take along to where there is no signal: each room names its own part.

A room registers a function when the site starts; the page "Ready for sea" asks for all of it.
"""

from collections.abc import Iterator
from typing import NamedTuple

from django.db import models
from django.utils.translation import gettext_lazy


class What(models.TextChoices):
    """What a part is, as it is counted and told."""

    START = "start", gettext_lazy("Pages")
    LESSON = "lessons", gettext_lazy("Lessons")
    TASK = "tasks", gettext_lazy("Tasks")
    NET = "nets", gettext_lazy("Nets")
    ROUND = "rounds", gettext_lazy("Judging rounds")
    TRIP = "trip", gettext_lazy("Where and when")
    SHEET = "sheets", gettext_lazy("Check sheets")


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
