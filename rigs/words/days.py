"""Days in words."""

from datetime import date


def long_day(day: date) -> str:
    """Return ``day`` as ``July 1, 2026``."""
    return f"{day:%B} {day.day}, {day.year}"
