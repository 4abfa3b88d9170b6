"""Which rule sets a net can be converted for."""

from collections.abc import Iterable
from datetime import date

from rigs.rules import rulebook
from rigs.rules.rulebook import Rulebook
from rigs.words.say import gettext as _


def _without_sweep(book: Rulebook, books: Iterable[Rulebook]) -> str | None:
    """Return the name of the one of ``books`` without a sweep that ``book`` is or takes over."""
    names = (book.name, *book.gear)
    return next((each.name for each in books if each.name in names and each.has("no_sweep")), None)


def goals(on: date | None = None) -> tuple[Rulebook, ...]:
    """
    Return the Rulebooks that a net without a sweep can be fitted out for.

    They are those in force on the date ``on``, or the latest there are. The general one,
    which others take over, comes first.
    """
    books = rulebook.everything(on)
    taken_over = {name for book in books for name in book.gear}
    fit = [book for book in books if _without_sweep(book, books)]
    return tuple(sorted(fit, key=lambda book: (book.name not in taken_over, book.title)))


def books_for(name: str, on: date) -> tuple[Rulebook, Rulebook | None]:
    """
    Return (gear rule set, fishery rule set or None) to plan by for the goal ``name``.

    Both are those in force on the date ``on``, or where there is none the nearest: a net
    can be laid out by it, but not judged. Raise RulebookError for a rule set that there is
    not, or that is not fished without a sweep.
    """
    book = rulebook.nearest(name, on)
    gear = _without_sweep(book, [rulebook.nearest(each, on) for each in rulebook.names()])
    if gear is None:
        raise rulebook.RulebookError(
            _("“{title}” is not fished without a sweep.").format(title=book.title)
        )
    if gear == name:
        return book, None
    return rulebook.nearest(gear, on), book
