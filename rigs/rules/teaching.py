"""Which rule sets are taught: at which level of an exercise, and on whose course."""

from datetime import date

from . import shelf
from .book import Rulebook, Taught


def _taught(on: date | None) -> list[tuple[Taught, str]]:
    books: list[Rulebook] = [
        shelf.load(name) if on is None else shelf.nearest(name, on) for name in shelf.names()
    ]
    return [(book.taught, book.name) for book in books if book.taught is not None]


def taught(level: int, exercise: str = "", on: date | None = None) -> tuple[str, ...]:
    """
    Return the names of the rule sets that an ``exercise`` draws from at ``level``.

    They come in the order in which they come in, so that a seed finds the same one again.
    Asked for are the versions nearest to the date ``on``, or the latest. Without the slug of
    an exercise it is what most of them do.
    """
    found = sorted(
        (each.level_in(exercise), each.level, name)
        for each, name in _taught(on)
        if each.level_in(exercise) <= level
    )
    return tuple(name for _, _, name in found)


def on_course(role: str, on: date | None = None) -> tuple[str, ...]:
    """Return the names of the rule sets on the course of ``role``, as they come in by level."""
    found = sorted((each.level, name) for each, name in _taught(on) if role in each.courses)
    return tuple(name for _, name in found)
