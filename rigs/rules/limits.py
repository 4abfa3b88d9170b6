"""The units of limits, and how a limit is said in its unit."""

from collections.abc import Callable
from datetime import date
from typing import Any, NamedTuple

from rigs.requirements import by_mesh
from rigs.words import units
from rigs.words.say import gettext as _
from rigs.words.say import ngettext

UNIT_DIMENSION = {
    "in": "length",
    "ft": "length",
    "fm": "length",
    "mm": "length",
    "lb": "mass",
    "meshes": "count",
    "percent": "share",
    "day": "day count",
    "days": "day count",
}


class Printed(NamedTuple):
    """A figure as the regulation prints it beside its own, in SI and as ``text``."""

    size: float
    text: str


def _days(value: Any) -> str:
    if isinstance(value, date):
        return f"{value:%B} {value.day}"
    return " or ".join(str(season) for season in value)


def _areas(value: Any) -> str:
    return " or ".join(map(str, value)) if isinstance(value, tuple) else str(value)


def _names(value: Any) -> str:
    return ", ".join(value) if isinstance(value, tuple) else value


def _by_mesh(value: Any) -> str:
    if isinstance(value, by_mesh.Load):
        return f"{value.weight / units.POUND:,.0f} lb"
    return by_mesh.table_text(value)


PRINTERS: dict[str, Callable[[Any], str]] = {
    "in": units.inches,
    "ft": units.feet_inches,
    "fm": units.fathoms,
    "mm": lambda m: f"{units.trimmed(m * 1000, 1)} mm",
    "lb": lambda kg: f"{kg / units.POUND:,.0f} lb",
    "meshes": lambda n: _("{n:g} mesh{value}").format(n=n, value="es" * (n != 1)),
    "percent": lambda share: _("{trimmed} percent").format(trimmed=units.trimmed(share * 100, 2)),
    "flag": lambda flag: "yes" if flag else "no",
    "days": _days,
    "area": _areas,
    "names": _names,
    "lb by mesh": _by_mesh,
    "day": lambda days: ngettext(
        "{days} day",
        "{days} days",
        days,
    ).format(days=days),
}
"""What prints a limit, or a reading held against it, by the limit's unit."""
