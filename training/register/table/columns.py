"""The columns of the register as a table, and what else people call them."""

import re
from typing import NamedTuple

from django.utils.translation import gettext as _

from rigs.words.say import gettext_lazy


class RegisterError(ValueError):
    """A file that cannot be imported; the message tells whoever chose it why."""


class Column(NamedTuple):
    """
    A column: ``key`` for the code, ``header`` as written, ``also`` other headings for it.

    ``hints`` are words that a heading of it may have among others; those in capitals say
    it alone. Headings are compared without case, signs and spaces.
    """

    key: str
    header: str
    also: tuple[str, ...] = ()
    hints: tuple[str, ...] = ()


COLUMNS = (
    Column(
        "name",
        "name",
        ("vessel", "vessel name", "name of vessel", "boat", "boat name"),
        ("name", "called", "VESSEL", "BOAT", "SHIP"),
    ),
    Column(
        "harbor",
        "harbor",
        ("harbor", "harbour", "home harbor", "home harbour", "port", "home port", "homeport"),
        ("HARBOR", "HARBOUR", "PORT", "HOMEPORT", "HAILING", "home", "berth", "BERTHED", "moored"),
    ),
    Column(
        "length",
        "length",
        ("length over all", "length overall", "vessel length", "loa"),
        ("LENGTH", "LOA", "OVERALL", "long", "size"),
    ),
    Column(
        "registration",
        "registration number",
        ("registration", "registration no", "reg no", "reg"),
        (
            "REGISTRATION",
            "REG",
            "REGISTERED",
            "number",
            "no",
            "nr",
            "num",
            "HULL",
            "OFFICIAL",
            "document",
            "id",
        ),
    ),
    Column("owner", "owner", ("owner name", "name of owner"), ("OWNER", "OWNED")),
    Column(
        "captain",
        "captain",
        ("captain name", "name of captain", "skipper", "skipper name"),
        ("CAPTAIN", "SKIPPER", "MASTER", "operator"),
    ),
    Column("gear", "gear", ("rule set", "rig"), ("GEAR", "net", "rig", "rigged")),
    Column(
        "is_fishing",
        "still fishing",
        ("fishing", "is fishing", "active"),
        ("FISHING", "ACTIVE", "status"),
    ),
    Column("stage", "stage", (), ("STAGE", "step", "progress")),
    Column("since", "stage since", ("since", "at stage since"), ("SINCE", "date", "day", "visit")),
)
HEADERS = {column.key: column.header for column in COLUMNS}

# What the site writes beside its own columns, for whoever reads the table: not read back.
WRONG = "what is wrong"
LINE = "line in the file"
DEMO = "demo data"

LEFT_OUT = ""  # the key of a column that is not read
LENGTH_UNITS = {"ft": gettext_lazy("feet"), "m": gettext_lazy("meters")}

_UNITS = {
    "m": {"m", "metre", "metres", "meter", "meters"},
    "ft": {"ft", "feet", "foot"},
}
_BRACKETS = re.compile(r"[(\[](.*?)[)\]]")


def _words(text):
    return "".join(c if c.isalnum() else " " for c in text).casefold().split()


def plain(heading):
    """Return ``heading`` with nothing left but its words in lower case, those in brackets out."""
    return " ".join(_words(_BRACKETS.sub(" ", heading)))


KEYS = {plain(name): each.key for each in COLUMNS for name in (each.header, *each.also)} | {
    plain(name): LEFT_OUT for name in (WRONG, LINE, DEMO)
}


def unit_of(heading):
    """Return the unit, ft or m, in which ``heading`` says that bare numbers are; "" for none."""
    words = set(_words(heading))
    said = [unit for unit, names in _UNITS.items() if names & words]
    return said[0] if len(said) == 1 else ""


def check_columns(columns):
    """Raise RegisterError if ``columns``, by key, cannot be read together."""
    if "registration" not in columns and not {"name", "harbor"} <= set(columns):
        raise RegisterError(
            _(
                "To know a vessel, choose the column of its registration number, or those of its "
                "name and its harbor."
            )
        )
    if "since" in columns and "stage" not in columns:
        raise RegisterError(
            _(
                "“stage since” is the day of a stage: choose the column of the stage too, or "
                "leave it out."
            )
        )
