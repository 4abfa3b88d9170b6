"""What is said where a rule set has no version for a day, and an earlier or later one is shown."""

from datetime import date

from rigs.words.say import gettext as _
from rigs.words.say import gettext_lazy

from .rulebook import Rulebook, date_text


def is_lapsed(book: Rulebook, on: date) -> bool:
    """Return whether ``book``, the ``rulebook.nearest`` to the date ``on``, does not hold then."""
    return not book.holds_on(on)


def day_for(book: Rulebook, on: date) -> date:
    """Return the date to judge by ``book`` for on the date ``on``: the nearest that it has."""
    if on < book.effective_from:
        return book.effective_from
    return min(on, book.effective_to or on)


def lapse(book: Rulebook, on: date, day: str = "today") -> str:
    """
    Say that the rules of ``book`` have no version for the date ``on``, and which is shown.

    ``book`` is the ``rulebook.nearest`` to that date; ``day`` is what the date is called.
    """
    return _(
        "The rules “{title}” have no version for {day}. What you see here is from version "
        "{version}, which {when}."
    ).format(title=book.title, day=day, version=book.version, when=_when(book, on))


def lapse_in_short(book: Rulebook, on: date) -> str:
    """Say it beside one thing of a page that says it in full."""
    return _(
        "These rules have no version for today. This is from version {version}, which {when}."
    ).format(version=book.version, when=_when(book, on))


def _when(book: Rulebook, on: date) -> str:
    if book.effective_to is None or book.effective_from > on:
        return _("begins on {date_text}").format(date_text=date_text(book.effective_from))
    return _("ended on {date_text}").format(date_text=date_text(book.effective_to))


CHECK_IT = gettext_lazy("Check the published regulation before you rely on it.")
