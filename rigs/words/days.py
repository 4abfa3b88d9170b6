"""Days and times of day in words."""

from datetime import date, datetime


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
