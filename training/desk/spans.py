"""Spans of days after which staff ask what has stayed."""

from typing import NamedTuple

from training.recall.spacing import LATER_DAYS


class Span(NamedTuple):
    """From ``first`` days on, up to the next span's first; the last one has no end."""

    first: int
    words: str


SPANS = (
    Span(LATER_DAYS, f"{LATER_DAYS} to 89 days"),
    Span(90, "90 to 364 days"),
    Span(365, "a year or more"),
)


def span_of(days):
    """Return the Span that so many ``days`` fall into, None for fewer than the first one's."""
    return next((span for span in reversed(SPANS) if days >= span.first), None)
