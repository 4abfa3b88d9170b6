"""How the versions of a rule set follow each other: day to day, with no gap and no overlap."""

from collections.abc import Sequence
from datetime import date, timedelta
from itertools import pairwise

from rigs.words.say import gettext as _

from .book import Rulebook
from .nodes import RulebookError
from .seasons import date_text

Placed = tuple[Rulebook, str]
"""A version and where it came from."""
PlacedVersions = tuple[tuple[Rulebook, ...], str]
"""The versions that came of one text, the oldest first, and where that came from."""


def in_order(files: Sequence[PlacedVersions]) -> list[Placed]:
    """
    Return the versions of one rule set that came of ``files``, oldest first.

    Once a later file has begun, no limit of an earlier one changes any more. Raise
    RulebookError if two are called the same.
    """
    ordered = sorted(files, key=lambda each: (each[0][0].effective_from, each[0][0].version))
    found: dict[str, Placed] = {}
    for place, (books, source) in enumerate(ordered):
        begins = ordered[place + 1][0][0].effective_from if place + 1 < len(ordered) else None
        for book in books:
            if book is not books[0] and begins is not None and book.effective_from >= begins:
                break
            if book.version in found:
                raise RulebookError(
                    _("{source}: “{name}” has a version “{version}” already.").format(
                        source=source, name=book.name, version=book.version
                    )
                )
            found[book.version] = book, source
    return list(found.values())


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
        what = _("leaves a gap after") if begins > due else "overlaps"
        raise RulebookError(
            _(
                "{later_source}: version {version} of “{name}” begins on {date_text} and {what} "
                "version {version2} in {source}, which holds from {date_text2}"
            ).format(
                later_source=later_source,
                version=later.version,
                name=later.name,
                date_text=date_text(begins),
                what=what,
                version2=book.version,
                source=source,
                date_text2=date_text(book.effective_from),
            )
            + (f" to {date_text(ends)}" if book.effective_to else "")
            + _(". Let it begin on {date_text}, or change the last day of the other.").format(
                date_text=date_text(due)
            )
        )


def holding(books: Sequence[Rulebook], on: date) -> Rulebook | None:
    """Return the one of ``books``, oldest first, that holds on the date ``on``; else None."""
    begun = [book for book in books if book.effective_from <= on]
    return begun[-1] if begun and begun[-1].holds_on(on) else None
