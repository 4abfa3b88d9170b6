"""Which days a season has: those of the fishery in which no sweep is allowed."""

from datetime import date, timedelta
from typing import NamedTuple

from django.utils.translation import gettext as _

from rigs.rules import rulebook

FISHERY = "grate"


class Season(NamedTuple):
    """The season of a year, ``first`` and ``last`` day included."""

    year: int
    first: date
    last: date

    @property
    def eve(self):
        """The day before the first."""
        return self.first - timedelta(days=1)

    @property
    def title(self):
        return _("Season {year}").format(year=self.year)


def _book(year):
    """Return the rule set that the season of ``year`` went or goes by."""
    begun = [book for book in rulebook.versions(FISHERY) if book.effective_from.year <= year]
    return begun[-1] if begun else rulebook.versions(FISHERY)[0]


def season(year):
    """Return the Season of ``year``; raise ValueError for a year that no calendar has."""
    spans = _book(year).requirement("season").limit
    begins = [span.begins_after(date(year - 1, 12, 31)) for span in spans]
    ends = [span.ends_after(first) for span, first in zip(spans, begins, strict=True)]
    return Season(year, min(begins), max(ends))


def latest(today):
    """Return the latest Season that had begun by ``today``."""
    found = season(today.year)
    return found if found.first <= today else season(today.year - 1)


def same_day(of, day, other):
    """Return the day of the Season ``other`` that is as far into it as ``day`` is into ``of``."""
    return min(other.first + (day - of.first), other.last) if day < of.last else other.last
