"""Finds the table in the lines of a sheet: which one has the headings, what stands below."""

from typing import NamedTuple

from django.utils.translation import gettext as _

from .columns import plain

LOOKED_AT = 15  # lines from the top among which the headings are looked for
NO_HEADINGS = 0  # in place of the line with the headings: there is none


class Table(NamedTuple):
    """The headings of a table and its rows, each with the number of its line; all text."""

    headers: list[str]
    rows: list[tuple[int, list[str]]]


def known_among(cells, known):
    """Return how many different ones of ``cells`` are headings of ``known``, in plain words."""
    return len({plain(cell) for cell in cells if cell.strip()} & known)


def heading_line(lines, known):
    """
    Return the number of the line with the headings, of ``lines`` with their cells.

    The one with most of the ``known`` headings, two at least; or else the first that is
    nearly as wide as the table, since a title above it is not.
    """
    top = lines[:LOOKED_AT]
    best = max(top, key=lambda line: (known_among(line[1], known), -line[0]))
    if known_among(best[1], known) > 1:
        return best[0]
    widths = [sum(map(bool, cells)) for __, cells in top]
    return next(
        line for (line, __), width in zip(top, widths, strict=True) if width * 5 >= max(widths) * 3
    )


def table(lines, top):
    """Return the Table whose headings stand in the line numbered ``top``, or NO_HEADINGS."""
    if top == NO_HEADINGS:
        width = max(len(cells) for __, cells in lines)
        headers = [_("Column {number}").format(number=number + 1) for number in range(width)]
        return Table(headers, list(lines))
    headers = next(cells for line, cells in lines if line == top)
    return Table(headers, [row for row in lines if row[0] > top])
