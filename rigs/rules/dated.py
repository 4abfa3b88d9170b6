"""A limit that changes on a day: its values by date, and the versions that come of them."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from datetime import date, timedelta
from itertools import pairwise
from typing import NamedTuple

from .book import Rulebook
from .requirement import Requirement


class Dated(NamedTuple):
    """A requirement as it stands at first, and as it stands from each later date on."""

    first: Requirement
    later: tuple[tuple[date, Requirement], ...] = ()

    def on(self, day: date) -> Requirement:
        """Return the Requirement as it stands on the date ``day``."""
        return [self.first, *(value for begins, value in self.later if begins <= day)][-1]

    def each(self, change: Callable[[Requirement], Requirement]) -> "Dated":
        """Return it with ``change`` made to every one of its values."""
        return Dated(
            change(self.first), tuple((begins, change(value)) for begins, value in self.later)
        )


def versions(book: Rulebook, requirements: Sequence[Dated]) -> tuple[Rulebook, ...]:
    """
    Return ``book`` as a version for each day on which one of its limits changes.

    The first keeps its name and its first day; one from a later day is called after both:
    ``1.2027-03-01``. Only the last of them has the last day of ``book``; without one each
    ends on the eve of the next. Days before or after those of ``book`` begin no version.
    """
    first, last = book.effective_from, book.effective_to
    begins = [first, *(day for day in _days(requirements) if book.holds_on(day) and day > first)]
    found = [
        replace(
            book,
            version=book.version if day == first else f"{book.version}.{day.isoformat()}",
            effective_from=day,
            resumes=book.resumes and day == first,
            requirements=tuple(each.on(day) for each in requirements),
        )
        for day in begins
    ]
    if last is None:
        return tuple(found)
    eves = [
        replace(one, effective_to=other.effective_from - timedelta(days=1))
        for one, other in pairwise(found)
    ]
    return (*eves, found[-1])


def _days(requirements: Iterable[Dated]) -> list[date]:
    return sorted({day for each in requirements for day, _ in each.later})
