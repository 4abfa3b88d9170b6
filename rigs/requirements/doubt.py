"""
What cannot be right about how a rig was described.

It is no finding: nothing was broken, but the description gainsays itself, and whoever
wrote it has to look again before the findings can be gone by.
"""

from typing import NamedTuple, Protocol, TypeVar

from rigs.words.gear import PORT
from rigs.words.places import Spot, place_text

from .readings import PLAY


class Doubt(NamedTuple):
    """
    One thing that cannot be right: ``what`` it is, the ``spots``, and what to do about it.

    A spot is one of the rig's parts.
    """

    what: str
    spots: tuple[Spot, ...]
    remedy: str

    @property
    def places(self) -> tuple[str, ...]:
        """Where it is, in words."""
        return tuple(place_text(spot) for spot in self.spots)


class _Placed(Protocol):
    @property
    def position(self) -> float: ...


_Part = TypeVar("_Part", bound=_Placed)


def beyond(parts: tuple[_Part, ...], side: str, end: float) -> tuple[_Part, ...]:
    """Return those of ``parts`` that are further to ``side`` than ``end`` metres."""
    sign = -1 if side == PORT else 1
    return tuple(each for each in parts if sign * each.position > end + PLAY)


def many(count: int, one: str) -> str:
    """Return ``A dropper is`` or ``3 droppers are``."""
    return f"{count} {one}s are" if count > 1 else f"A {one} is"
