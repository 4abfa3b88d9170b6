"""A trip from the words of a case: see ``cases``."""

from collections.abc import Mapping
from datetime import date
from typing import Any

from rigs.words.positions import parse_position
from rigs.words.trip import Trip
from rigs.words.units import parse_length, parse_mass

_WORDS = (
    *("position", "letter aboard", "letter asked for", "kept", "red hake"),
    *("silver and offshore hake", "smallest mesh", "mesh in use", "regulated", "caught"),
)


def _mass(text: object) -> float | None:
    return None if text is None else parse_mass(str(text), bare=None)


def _length(text: object) -> float | None:
    return None if text is None else parse_length(str(text), bare=None)


def trip_from(told: Mapping[str, Any], day: date) -> Trip:
    """
    Return the Trip on the date ``day`` of which ``told``, a mapping as in a case, are the words.

    What is left out is not known. Raise ValueError, naming the words, for what is not understood.
    """
    if unknown := set(told) - set(_WORDS):
        raise ValueError(f"unknown words {', '.join(sorted(unknown))}")
    position = told.get("position")
    kept = told.get("kept")
    return Trip(
        day=day,
        position=None if position is None else parse_position(position),
        letter_aboard=told.get("letter aboard"),
        letter_asked=told.get("letter asked for"),
        kept=None if kept is None else tuple(kept),
        hake=_mass(told.get("silver and offshore hake")),
        red_hake=_mass(told.get("red hake")),
        smallest_mesh=_length(told.get("smallest mesh")),
        mesh_in_use=_length(told.get("mesh in use")),
        regulated=_mass(told.get("regulated")),
        caught=_mass(told.get("caught")),
    )
