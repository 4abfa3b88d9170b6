"""
Flights that are drawn: an invented net as it is, and after each of a few changes, node by node.

Each is flown beforehand by ``python -m tests.pictured_flights`` and kept in ``pictured.json``: a
page draws it without flying anything. Lengths are metres there, to the millimeter.
"""

import json
from functools import cache, lru_cache
from pathlib import Path
from typing import Any, NamedTuple

import numpy as np

from rigs.physics.flight import COUNT, POINTS, Flown, Moved, Span, Spread
from rigs.physics.flight.built import PAGE, build
from rigs.physics.flight.flown import is_alike
from rigs.physics.flight.laid import Cut
from rigs.physics.flight.solve import Rest
from rigs.physics.flight.unknowns import Guess
from rigs.words.gear import PORT, Rig
from rigs.words.say import gettext_lazy
from rigs.words.units import INCH, KNOT

from .mends import Mend, named
from .nets import Ailing, Net

PATH = Path(__file__).with_name("pictured.json")

NET = Net("pictured", 60, 20, 3, 21, 42, 5 / 16, 10, 15, 2.2, 5, 28, 17, None, PORT)
"""The net: with nothing wrong on it, and a bosom and wings as the lessons' other drawings have."""

SOUND = Ailing(
    NET, gettext_lazy("flies as it should"), NET.sound, NET.level * INCH, NET.speed * KNOT
)
"""It as it flies before any change."""

CHANGES = (
    Mend("floats", 2),
    Mend("floats", 4),
    Mend("floats", -2),
    Mend("headrope", 4),
    Mend("footrope", 24),
    Mend("droppers", 2),
    Mend("doubled"),
    Mend("top-leg", 3),
    Mend("bottom-leg", 3),
    Mend("bottom-leg", 3, PORT),
)
"""What is tried on it."""


class Picture(NamedTuple):
    """
    What ``mend`` makes of NET: how it is ``flown`` after it, and how sure its change is.

    ``spreads`` are in the order of flight's POINTS. Without a change ``mend`` is None, and they
    say how sure the heights are, once shine was read at each place.
    """

    mend: Mend | None
    flown: Flown
    spreads: tuple[Spread, ...]

    @property
    def moves(self) -> tuple[Moved, ...]:
        """What the change likely does, place by place."""
        before = as_it_is().flown.points
        return tuple(Moved(old, new) for old, new in zip(before, self.flown.points, strict=True))

    @property
    def center(self) -> float:
        """How far the center likely goes up, metres."""
        return self.moves[len(POINTS) // 2].change


def as_it_is() -> Picture:
    """Return the net before any change."""
    return _picture(None)


def after(key: str) -> Picture:
    """Return what the change of the name ``key`` makes of it; KeyError if it was not flown."""
    return _picture(key)


def tried() -> tuple[Mend, ...]:
    """Return the changes that were flown, in the order of CHANGES."""
    return tuple(map(named, _told()["changes"]))


def spread_row(spread: Spread) -> dict[str, Any]:
    """Return ``spread`` as the file has it."""
    return {
        **{
            part: [round(end, 4) for end in getattr(spread, part)]
            for part in ("before", "after", "change")
        },
        **{part: getattr(spread, part) for part in ("rises", "sinks", "lies", "lost")},
    }


@cache
def _told() -> dict[str, Any]:
    found: dict[str, Any] = json.loads(PATH.read_text())
    return found


@lru_cache(maxsize=32)
def _picture(key: str | None) -> Picture:
    told = _told()
    row = told["before"] if key is None else told["changes"][key]
    mend = None if key is None else named(key)
    rig = SOUND.rig if mend is None else mend.on(SOUND.rig)
    return Picture(
        mend,
        _flown(rig, Guess(**told["guess"]), row["at"]),
        tuple(
            Spread(
                name=name,
                before=Span(*each["before"]),
                after=Span(*each["after"]),
                change=Span(*each["change"]),
                rises=each["rises"],
                sinks=each["sinks"],
                lies=each["lies"],
                of=COUNT,
                lost=each["lost"],
            )
            for name, each in zip(POINTS, row["spreads"], strict=True)
        ),
    )


def _flown(rig: Rig, guess: Guess, at: list[list[float]]) -> Flown:
    """Return ``rig`` with its nodes ``at`` the places where they came to rest."""
    cut = Cut.typical(SOUND.rig, guess)
    return Flown(
        rig,
        guess,
        build(rig, guess, cut, PAGE, half=is_alike(rig)),
        Rest(np.array(at, dtype=float), steps=0, left=0.0),
    )
