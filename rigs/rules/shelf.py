"""The rule sets there are, and which version of each holds on a day."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from datetime import date
from functools import cache, lru_cache

from rigs.words.say import gettext as _

from .book import Rulebook
from .book_reader import FOLDER, parse_versions
from .joining import Placed, PlacedVersions, holding, in_order, refuse_gaps_and_overlaps
from .nodes import RulebookError
from .seasons import date_text

Texts = tuple[tuple[str, str], ...]
"""Pairs of where from and YAML text."""
Source = Callable[[], Texts]

_sources: list[Source] = []


def add_source(source: Source) -> None:
    """
    Have the shelf hold what ``source()`` returns besides the files.

    That is a tuple of (where from, YAML text) pairs. It is asked at every look-up, so
    that it must be quick; a text is parsed once for as long as it keeps coming.
    """
    if source not in _sources:
        _sources.append(source)


def remove_source(source: Source) -> None:
    """Have the shelf no longer hold what ``source()`` returns."""
    if source in _sources:
        _sources.remove(source)


_tried: ContextVar[Texts] = ContextVar("tried", default=())


@contextmanager
def trying(source: str, text: str) -> Iterator[None]:
    """
    Have the shelf hold one more YAML ``text`` inside a ``with`` block, and only for it.

    So it can be tried out before it is on the shelf; other threads see nothing of it.
    """
    token = _tried.set((*_tried.get(), (source, text)))
    try:
        yield
    finally:
        _tried.reset(token)


# Kept apart from the shelf, so that a book stays the same object when others join it.
@cache
def _read(source: str, text: str) -> tuple[Rulebook, ...]:
    return parse_versions(text, source)


@cache
def _on_file() -> Texts:
    return tuple((path.name, path.read_text("utf-8")) for path in sorted(FOLDER.glob("*.yaml")))


@lru_cache(maxsize=4)
def _sorted(texts: Texts) -> dict[str, tuple[Rulebook, ...]]:
    """Return the rule sets in ``texts``, pairs as from a source, by name, oldest first."""
    files: dict[str, list[PlacedVersions]] = {}
    for source, text in texts:
        read = _read(source, text)
        files.setdefault(read[0].name, []).append((read, source))
    shelf = {name: in_order(placed) for name, placed in files.items()}
    for books in shelf.values():
        refuse_gaps_and_overlaps(books)
        for book, source in books:
            _refuse_unknown_gear(book, source, shelf)
    return {name: tuple(book for book, __ in books) for name, books in shelf.items()}


def _refuse_unknown_gear(book: Rulebook, source: str, shelf: dict[str, list[Placed]]) -> None:
    for name in book.gear:
        if name not in shelf:
            raise RulebookError(
                _(
                    "{source}: “gear” names “{name}”, but there is no such rule set. Use one of "
                    "{sorted}."
                ).format(source=source, name=name, sorted=", ".join(sorted(shelf)))
            )
        if not any(each.lays_out_rig for each, __ in shelf[name]):
            raise RulebookError(
                _("{source}: “gear” names “{name}”, which has no rules for a rig.").format(
                    source=source, name=name
                )
            )


def _books() -> dict[str, tuple[Rulebook, ...]]:
    more = tuple(pair for source in _sources for pair in source())
    return _sorted(_on_file() + more + _tried.get())


def names() -> tuple[str, ...]:
    """Return the names of the rule sets there are, in alphabetical order."""
    return tuple(sorted(_books()))


def versions(name: str) -> tuple[Rulebook, ...]:
    """
    Return every version of the rule set ``name``, by the day it takes effect.

    Raise RulebookError if there is no such rule set.
    """
    books = _books().get(name)
    if not books:
        raise RulebookError(_("There is no rule set called “{name}”.").format(name=name))
    return books


def gear_books(on: date | None = None) -> tuple[Rulebook, ...]:
    """
    Return the rule sets that lay out a whole rig, droppers and all.

    They are in the version in force on the date ``on``, or in their latest.
    """
    return tuple(book for book in everything(on) if book.lays_out_rig)


def gear_names(on: date | None = None) -> tuple[str, ...]:
    """Return the names of ``gear_books``."""
    return tuple(book.name for book in gear_books(on))


def load(name: str, version: str | None = None) -> Rulebook:
    """
    Return the rule set ``name``, in its latest version unless one is named.

    The latest may be one that takes effect in days to come: what holds on a day is for
    ``in_force`` to say. Raise RulebookError if there is no such rule set or version.
    """
    books = versions(name)
    if version is None:
        return books[-1]
    for book in books:
        if book.version == version:
            return book
    raise RulebookError(
        _("The rule set “{name}” has no version “{version}”.").format(name=name, version=version)
    )


def in_force(name: str, on: date) -> Rulebook:
    """
    Return the version of the rule set ``name`` to judge by on the date ``on``.

    A version without a last day ends on the day before the next one begins. Raise
    RulebookError if none holds on that day, or there is no such rule set.
    """
    books = versions(name)
    book = holding(books, on)
    if book is None:
        raise RulebookError(
            _("The rules “{title}” have no version for {date_text}.").format(
                title=books[-1].title, date_text=date_text(on)
            )
        )
    return book


def find_in_force(name: str, on: date) -> Rulebook | None:
    """Return what ``in_force`` does, None where no version holds, for a page to say so."""
    return holding(_books().get(name, ()), on)


def nearest(name: str, on: date) -> Rulebook:
    """
    Return the version of the rule set ``name`` to show on the date ``on``, in force or not.

    Where none holds it is the one that held last before, or else the first to come: say
    so beside it, and judge nothing by it. Raise RulebookError if there is no such rule set.
    """
    books = versions(name)
    begun = [book for book in books if book.effective_from <= on]
    return holding(books, on) or (begun[-1] if begun else books[0])


def lapsed(on: date) -> tuple[Rulebook, ...]:
    """Return the ``nearest`` of each rule set that has no version for the date ``on``."""
    return tuple(nearest(name, on) for name in names() if find_in_force(name, on) is None)


def nearest_gear_books(on: date) -> tuple[Rulebook, ...]:
    """Return the ``nearest`` of each rule set for gear, in force on the date ``on`` or not."""
    return tuple(nearest(name, on) for name in gear_names())


def everything(on: date | None = None) -> tuple[Rulebook, ...]:
    """
    Return the rule sets in force on the date ``on``, by name; others are left out.

    Without a date it is each rule set in its latest version.
    """
    if on is None:
        return tuple(load(name) for name in names())
    held = [find_in_force(name, on) for name in names()]
    return tuple(book for book in held if book is not None)
