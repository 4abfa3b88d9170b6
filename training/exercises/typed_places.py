"""Distances along a rope as people type them, one on each line."""

import re

from django.utils.translation import gettext as _

from rigs.words import units
from rigs.words.units import UnitError

# No footrope carries more droppers than this; longer lists are a slip.
MOST = 80


def split(text):
    """
    Return the single entries of ``text``, in the order typed.

    Entries stand on lines of their own or between semicolons. Commas part them too, so
    long as the distances grow: ``3 ft, 6 in`` may be one distance or two, and is refused
    with a UnitError.
    """
    entries = []
    for line in re.split(r"[\n;]", text):
        pieces = [piece.strip() for piece in line.split(",") if piece.strip()]
        if len(pieces) > 1:
            read = [units.parse_length(piece) for piece in pieces]
            if sorted(set(read)) != read:
                raise UnitError(
                    _(
                        "“{strip}” can be read in two ways. Put each distance on a line of its own."
                    ).format(strip=line.strip())
                )
        entries += pieces
    if len(entries) > MOST:
        raise UnitError(
            _("That is {entries} droppers; no footrope carries more than {MOST}.").format(
                entries=len(entries), MOST=MOST
            )
        )
    return entries


def read_distances(text):
    """
    Return the distances in metres that ``text`` lists; a lone number is in feet.

    Raise UnitError, naming the entry, for one that cannot be read.
    """
    return [units.parse_length(entry) for entry in split(text)]


def write_distances(metres):
    """Return distances in metres as text that ``read_distances`` reads, one a line."""
    return "\n".join(units.feet_inches(each) for each in metres)
