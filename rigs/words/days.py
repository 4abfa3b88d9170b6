"""Days and times of day in words, and days read as people write them."""

import re
from datetime import date, datetime

from .keyboard import plain
from .say import gettext as _
from .units import UnitError

EXAMPLE = "9/1/2026"

_CENTURY = 2000  # no sheet is about a day of another
_TYPED = re.compile(r"(\d{1,2})[/-](\d{1,2})[/-](20\d\d|\d\d)", re.ASCII)
_ISO = re.compile(r"(20\d\d)-(\d{1,2})-(\d{1,2})", re.ASCII)


def long_day(day: date) -> str:
    """Return ``day`` as ``July 1, 2026``."""
    return f"{day:%B} {day.day}, {day.year}"


def clock(when: datetime) -> str:
    """Return the time of day of ``when`` as ``3:00 p.m.``."""
    half = "a.m." if when.hour < 12 else "p.m."
    return f"{when.hour % 12 or 12}:{when:%M} {half}"


def short_day(day: date) -> str:
    """Return ``day`` as ``Jul 1, 2026``, for tables."""
    return f"{day:%b} {day.day}, {day.year}"


def parse_day(text: str) -> date:
    """
    Return the date that ``text`` says: ``9/1/2026``, month first, or ``2026-09-01``.

    Raise UnitError, saying what was not understood, for anything else.
    """
    told = plain(text).strip()
    if typed := _TYPED.fullmatch(told):
        month, day, year = map(int, typed.groups())
    elif iso := _ISO.fullmatch(told):
        year, month, day = map(int, iso.groups())
    else:
        raise UnitError(
            _("“{told}” was not understood. Write month, day and year, like {EXAMPLE}.").format(
                told=told, EXAMPLE=EXAMPLE
            )
        )
    try:
        return date(year if year >= _CENTURY else year + _CENTURY, month, day)
    except ValueError as error:
        raise UnitError(
            _("There is no day “{told}”. Write month, day and year, like {EXAMPLE}.").format(
                told=told, EXAMPLE=EXAMPLE
            )
        ) from error
