"""
The flights in ``data/``, read: of each ailing net its heights, and what each change does to them.

Lengths are inches in the files and metres here; each list of five runs from port to starboard,
as ``rigs.physics.flight.POINTS`` does.
"""

import json
from collections.abc import Sequence
from functools import cache
from pathlib import Path
from typing import Any, NamedTuple

from rigs.words.units import INCH

from .mends import Mend, named
from .nets import NETS, Ailing, Net, states

FOLDER = Path(__file__).with_name("data")

HEIGHT = (1, 2, 3)
"""The places by whose mean a footrope's height goes: both corners and the center."""
_PORT, _STARBOARD = (0, 1), (3, 4)  # a side's wing end and corner


class Flight(NamedTuple):
    """
    What ``mend`` does to a net, at five places, in metres.

    ``after`` are the likely heights, ``low`` and ``high`` hold nine in ten of the changes;
    ``rises`` and ``sinks`` count the nets, ``of`` all, in which a place does so visibly.
    ``lifted`` and ``lowered`` count the same of the height, ``nearer`` those in which the sides
    come nearer to each other.
    """

    mend: Mend
    after: tuple[float, ...]
    low: tuple[float, ...]
    high: tuple[float, ...]
    rises: tuple[int, ...]
    sinks: tuple[int, ...]
    lifted: int
    lowered: int
    nearer: int
    of: int


class Flights(NamedTuple):
    """An ailing net as it flies: heights ``before`` and ``shine`` in metres, and what was tried."""

    ailing: Ailing
    before: tuple[float, ...]
    shine: tuple[float, ...]
    tried: tuple[Flight, ...]


def height(heights: Sequence[float]) -> float:
    """Return the footrope's height: the mean of its center and both corners."""
    return sum(heights[place] for place in HEIGHT) / len(HEIGHT)


def side(heights: Sequence[float], places: Sequence[int]) -> float:
    """Return the mean of ``heights`` at ``places``."""
    return sum(heights[place] for place in places) / len(places)


def apart(heights: Sequence[float]) -> float:
    """Return by how much port flies higher than starboard, by wing end and corner."""
    return side(heights, _PORT) - side(heights, _STARBOARD)


def path_of(net: Net) -> Path:
    """Return the file of ``net``."""
    return FOLDER / f"{net.key}.json"


@cache
def flights() -> tuple[Flights, ...]:
    """Return the whole table, net by net."""
    found = []
    for net in NETS:
        told = json.loads(path_of(net).read_text())
        found += [_flights(ailing, told[ailing.key]) for ailing in states(net)]
    return tuple(found)


def found(key: str) -> Flights:
    """Return the Flights of the ailing net of the name ``key``; raise KeyError if none."""
    for each in flights():
        if each.ailing.key == key:
            return each
    raise KeyError(key)


def _metres(inches: Sequence[float]) -> tuple[float, ...]:
    return tuple(each * INCH for each in inches)


def _flights(ailing: Ailing, told: dict[str, Any]) -> Flights:
    return Flights(
        ailing,
        _metres(told["before"]),
        _metres(told["shine"]),
        tuple(_flight(named(key), row) for key, row in told["changes"].items()),
    )


def _flight(mend: Mend, row: dict[str, Any]) -> Flight:
    lifted, lowered = row["height"]
    return Flight(
        mend=mend,
        after=_metres(row["after"]),
        low=_metres(row["low"]),
        high=_metres(row["high"]),
        rises=tuple(row["rises"]),
        sinks=tuple(row["sinks"]),
        lifted=lifted,
        lowered=lowered,
        nearer=row["nearer"],
        of=row["of"],
    )
