"""
What comes of looking at a rig or a trip: values, and the spots they were taken at.

``NOTHING`` says that there is nothing there to measure, ``None`` that nobody has looked; a
value of None was not taken, a Between only in part. A spot is a phrase, or the part itself,
or a stretch of rope: putting it into words is left to whoever needs the words, since a
judge of many rigs mostly does not.
"""

from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import Any, NamedTuple, Protocol, TypeVar

from rigs.words.gear import SIDES
from rigs.words.units import INCH

Readings = tuple[Sequence[Any], Sequence[Any]]
"""Values, and as many spots."""

NOTHING: Readings = ((), ())

PLAY = INCH / 4
"""How far past its end a place on a rope still counts as the end itself: no tape on deck
is read finer (common practice, no source)."""


class Between(NamedTuple):
    """
    A value of which a part was not measured: the least and the most that it can be.

    A length that was not measured is anything from nothing up, unless more is known.
    """

    least: float
    most: float


class Taken(NamedTuple):
    """
    Readings taken one by one, as a check sheet has them, instead of off a whole Rig.

    ``readings`` are what measures return, by requirement's key.
    """

    readings: Mapping[str, Readings | None]
    vessel_length: float | None = None


class _Sided(Protocol):
    @property
    def side(self) -> str: ...


_Part = TypeVar("_Part", bound=_Sided)


def off_each(parts: tuple[_Part, ...], name: str, value: Callable[[_Part], Any]) -> Readings | None:
    """
    Return readings of ``value`` off each of ``parts``, which are on one side or the other.

    A side on which there is none was left out: it was not measured. ``name`` is what they
    are called there.
    """
    if not parts:
        return None
    values = [value(each) for each in parts]
    left_out = sides_without(parts, name)
    return (values + [None] * len(left_out), parts + left_out) if left_out else (values, parts)


def sides_without(parts: tuple[_Part, ...], name: str) -> tuple[str, ...]:
    """Return a phrase for each side on which there is none of ``parts``."""
    if len(parts) == 2 and parts[0].side != parts[1].side:
        return ()
    told = {each.side for each in parts}
    return tuple(f"{side} {name}" for side in SIDES if side not in told)


def known(values: Iterable[Any]) -> list[Any]:
    """Return those of ``values`` that were taken in full."""
    return [value for value in values if value is not None and not isinstance(value, Between)]
