"""A story as a page shows it: all of it or one kind, so many at a time, by day."""

from collections import Counter
from typing import NamedTuple

from django.core.paginator import Page, Paginator

from .story import Kind

TELLINGS_A_PAGE = 40


class KindChoice(NamedTuple):
    """A Kind to see alone, None for all; its title, how many there are, whether it is chosen."""

    kind: Kind | None
    title: str
    count: int
    here: bool


class StoryPage(NamedTuple):
    """The tellings of a ``page``, and the ``kinds`` one may choose among."""

    page: Page
    kinds: list[KindChoice]


def story_page(tellings, asked):
    """Return the StoryPage of ``tellings``, the latest first; ``asked`` is the GET of a request."""
    counts = Counter(each.kind for each in tellings)
    chosen = next((kind for kind in counts if kind.value == asked.get("kind")), None)
    kinds = [KindChoice(None, "", len(tellings), chosen is None)]
    kinds += [
        KindChoice(kind, kind.label, counts[kind], kind is chosen)
        for kind in Kind
        if kind in counts
    ]
    shown = [each for each in tellings if chosen in (None, each.kind)]
    page = Paginator(shown, TELLINGS_A_PAGE).get_page(asked.get("page"))
    return StoryPage(page, kinds)
