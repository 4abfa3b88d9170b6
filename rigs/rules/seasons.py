"""Days of the year on which something is open, and dates as they are said."""

from calendar import month_name
from dataclasses import dataclass
from datetime import date

MonthAndDay = tuple[int, int]


@dataclass(frozen=True)
class Season:
    """
    Days of the year, as (month, day), first and last included.

    One whose last day comes before its first in the calendar runs over New Year.
    """

    first: MonthAndDay
    last: MonthAndDay

    def __str__(self) -> str:
        return f"{_day_text(*self.first)} to {_day_text(*self.last)}"

    def open_on(self, day: date) -> bool:
        """Return whether the season is open on the date ``day``."""
        at = (day.month, day.day)
        if self.over_new_year:
            return at >= self.first or at <= self.last
        return self.first <= at <= self.last

    @property
    def over_new_year(self) -> bool:
        """Whether the season begins in one year and ends in the next."""
        return self.last < self.first

    def begins_after(self, day: date) -> date:
        """Return the next date after ``day`` on which the season begins."""
        year = day.year + ((day.month, day.day) >= self.first)
        # A season from February 29 begins on March 1 where there is none.
        try:
            return date(year, *self.first)
        except ValueError:
            return date(year, 3, 1)

    def ends_after(self, first: date) -> date:
        """Return the date of the last day of the season that begins on the date ``first``."""
        year = first.year + self.over_new_year
        try:
            return date(year, *self.last)
        except ValueError:
            return date(year, 2, 28)


def _day_text(month: int, day: int) -> str:
    return f"{month_name[month]} {day}"


def date_text(day: date) -> str:
    """Return the date ``day`` as it is said: ``July 1, 2026``."""
    return f"{_day_text(day.month, day.day)}, {day.year}"
