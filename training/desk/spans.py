"""Spans of days after which staff ask what has stayed."""

from typing import NamedTuple

from rigs.words.say import gettext_lazy
from training.recall.spacing import LATER_DAYS


class Span(NamedTuple):
    """From ``first`` days on, up to the next span's first; the last one has no end."""

    first: int
    words: str


SPANS = (
    Span(LATER_DAYS, gettext_lazy("{LATER_DAYS} to 89 days").format(LATER_DAYS=LATER_DAYS)),
    Span(90, "90 to 364 days"),
    Span(365, gettext_lazy("a year or more")),
)


def span_of(days):
    """Return the Span that so many ``days`` fall into, None for fewer than the first one's."""
    return next((span for span in reversed(SPANS) if days >= span.first), None)
