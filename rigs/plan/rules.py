"""Which rule sets a net can be converted for."""

from .. import rulebook


def _without_sweep(book):
    """Return the name of the rule set without a sweep that ``book`` is or takes over."""
    if book.has("no_sweep"):
        return book.name
    return next((name for name in book.gear if rulebook.load(name).has("no_sweep")), None)


def goals():
    """
    Return the Rulebooks that a net without a sweep can be fitted out for.

    The general one, which others take over, comes first.
    """
    books = [rulebook.load(name) for name in rulebook.names()]
    taken_over = {name for book in books for name in book.gear}
    fit = [book for book in books if _without_sweep(book)]
    return tuple(sorted(fit, key=lambda book: (book.name not in taken_over, book.title)))


def books_for(name, on):
    """
    Return (gear rule set, fishery rule set or None) to plan by for the goal ``name``.

    Both are those in force on the date ``on``. Raise RulebookError for a name that is
    not one of ``goals``.
    """
    book = rulebook.in_force(name, on)
    gear = _without_sweep(book)
    if gear is None:
        raise rulebook.RulebookError(f"“{book.title}” is not fished without a sweep.")
    if gear == name:
        return book, None
    return rulebook.in_force(gear, on), book
