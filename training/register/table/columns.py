"""The columns of the register as a table, and what else people call them."""

import re
from typing import NamedTuple

from django.utils.translation import gettext as _


class RegisterError(ValueError):
    """A file that cannot be imported; the message tells whoever chose it why."""


class Column(NamedTuple):
    """
    A column: ``key`` for the code, ``header`` as written, ``also`` other headings for it.

    Headings are compared without case, signs and spaces.
    """

    key: str
    header: str
    also: tuple[str, ...] = ()


COLUMNS = (
    Column("name", "name", ("vessel", "vessel name", "boat")),
    Column(
        "harbor",
        "harbor",
        ("harbor", "harbour", "home harbor", "home harbour", "port", "home port"),
    ),
    Column("length", "length", ("length over all", "vessel length")),
    Column("registration", "registration number", ("registration", "registration no", "reg no")),
    Column("owner", "owner", ("owner name",)),
    Column("captain", "captain", ("captain name", "skipper")),
    Column("gear", "gear", ("rule set", "rig")),
    Column("is_fishing", "still fishing", ("fishing", "is fishing", "active")),
    Column("stage", "stage"),
    Column("since", "stage since", ("since", "at stage since")),
    # Written for whoever reads the table; there is nothing to import in it.
    Column("is_demo", "demo data"),
)
HEADERS = {column.key: column.header for column in COLUMNS}

_METRES = {"m", "metre", "metres", "meter", "meters"}
_BRACKETS = re.compile(r"[(\[](.*?)[)\]]")


class Headings(NamedTuple):
    """Where each column stands, by key; headings ``unknown`` here; the unit of bare lengths."""

    places: dict[str, int]
    unknown: list[str]
    bare: str


def _plain(heading):
    """Return ``heading`` with nothing left but its words in lower case."""
    outside = _BRACKETS.sub(" ", heading)
    return " ".join("".join(c if c.isalnum() else " " for c in outside).casefold().split())


_KEYS = {_plain(name): each.key for each in COLUMNS for name in (each.header, *each.also)}


def known_headings(cells):
    """Return how many of ``cells`` are headings known here."""
    return sum(_plain(cell) in _KEYS for cell in cells)


def headings_of(cells):
    """
    Return the Headings that ``cells``, the first row of a table, say.

    Raise RegisterError if a column stands twice or there is none to know a vessel by.
    """
    places, unknown, bare = {}, [], "ft"
    for index, cell in enumerate(cells):
        key = _KEYS.get(_plain(cell))
        if key is None:
            if cell.strip():
                unknown.append(cell.strip())
            continue
        if key in places:
            raise RegisterError(
                _("Two columns are headed “{name}” or mean the same. Take one of them out.").format(
                    name=HEADERS[key]
                )
            )
        places[key] = index
        if key == "length" and _METRES & {each.casefold() for each in _BRACKETS.findall(cell)}:
            bare = "m"
    if "registration" not in places and not {"name", "harbor"} <= places.keys():
        raise RegisterError(
            _(
                "The first row must name the columns. It needs a column “registration number”, or "
                "the columns “name” and “harbor”. "
            )
            + (
                _("Found were: {names}.").format(names=", ".join(unknown[:8]))
                if unknown
                else _("No heading was found.")
            )
        )
    return Headings(places, unknown, bare)
