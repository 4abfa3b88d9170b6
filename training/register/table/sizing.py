"""Reads lengths of vessels, with decimals and thousands of several habits."""

import re

from django.utils.translation import gettext as _

from rigs.words.units import FOOT, UnitError, feet_inches, parse_length

LONGEST = 500 * FOOT  # common sense, no source: more is a slip of the finger
SHORTEST = 1.0  # likewise, in metres: it only tells a decimal comma from one of thousands

_BARE = re.compile(r"[\d.,\s]+", re.ASCII)


def is_bare(text):
    """Return whether ``text`` is a number and nothing else, so that its unit is open."""
    return bool(_BARE.fullmatch(text))


def length_problem(length):
    """Return why no vessel has a ``length`` of so many metres, None if one might."""
    if length <= 0:
        return _("Enter a length above zero.")
    if length > LONGEST:
        return _("That is {feet_inches}, longer than any vessel here. Check the unit.").format(
            feet_inches=feet_inches(length)
        )
    return None


def _otherwise(text):
    """Yield ``text`` with its comma as a point, and with its point as one of thousands."""
    if re.search(r"\d,\d", text):
        yield text.replace(".", "").replace(",", ".")
    if re.search(r"\d\.\d{3}(?!\d)", text):
        yield text.replace(".", "")


def read_length(text, bare):
    """
    Return the length in metres that ``text`` says, in the unit ``bare`` if it names none.

    A comma or a point with three figures after it may part thousands or be decimal: what
    no vessel is long is not meant. Raise UnitError if it cannot be read.
    """
    unread = None
    try:
        length = parse_length(text, bare=bare)
        if SHORTEST <= length <= LONGEST:
            return length
    except UnitError as error:
        length, unread = None, error
    for other in _otherwise(text):
        try:
            found = parse_length(other, bare=bare)
        except UnitError:
            continue
        if SHORTEST <= found <= LONGEST:
            return found
    if unread is not None:
        raise unread
    return length
