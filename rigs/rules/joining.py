"""How the versions of a rule set follow each other: day to day, with no gap and no overlap."""

from collections.abc import Sequence
from datetime import date, timedelta
from itertools import pairwise

from .book import Rulebook
from .nodes import RulebookError
from .seasons import date_text

Placed = tuple[Rulebook, str]
"""A rule set and where it came from."""


def refuse_gaps_and_overlaps(books: Sequence[Placed]) -> None:
    """
    Raise RulebookError for versions, (Rulebook, where from) by first day, that do not join.

    One without a last day ends on the day before the next begins. Only one that
    ``resumes`` may leave a gap before it.
    """
    for (book, source), (later, later_source) in pairwise(books):
        begins, ends = later.effective_from, book.effective_to
        if ends is None and begins > book.effective_from:
            continue
        if ends is None:
            ends = book.effective_from
        due = ends + timedelta(days=1)
        if begins == due or (begins > due and later.resumes):
            continue
        what = "leaves a gap after" if begins > due else "overlaps"
        raise RulebookError(
            f"{later_source}: version {later.version} of “{later.name}” begins on "
            f"{date_text(begins)} and {what} version {book.version} in {source}, which holds from "
            f"{date_text(book.effective_from)}"
            + (f" to {date_text(ends)}" if book.effective_to else "")
            + f". Let it begin on {date_text(due)}, or change the last day of the other."
        )


def holding(books: Sequence[Rulebook], on: date) -> Rulebook | None:
    """Return the one of ``books``, oldest first, that holds on the date ``on``; else None."""
    begun = [book for book in books if book.effective_from <= on]
    return begun[-1] if begun and begun[-1].holds_on(on) else None
