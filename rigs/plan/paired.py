"""The places of a plan for a small page: port and starboard on one line where they are alike."""

from collections.abc import Sequence
from typing import NamedTuple

from rigs.words.gear import PORT, STARBOARD
from rigs.words.say import gettext as _

from .planned import TAPE, Placement


class Pair(NamedTuple):
    """
    One line: ``where``, how many ``places`` it is, and the distances in metres.

    ``from_corner`` is from the nearer corner of the two. ``source`` is that of its Placements.
    """

    where: str
    places: int
    from_center: float
    from_corner: float
    source: str
    is_new: bool


def _own_corner(place: Placement) -> float:
    return min(place.from_port_corner, place.from_starboard_corner)


def _alike(one: Placement, other: Placement) -> bool:
    return (
        one.source == other.source
        and abs(one.from_center - other.from_center) <= TAPE
        and abs(_own_corner(one) - _own_corner(other)) <= TAPE
    )


def _both(place: Placement, twin: Placement) -> str:
    """Return what two places, one on either side, are called together."""
    part = place.short.removeprefix(f"{PORT} ")
    if part == twin.short.removeprefix(f"{STARBOARD} ") != twin.short:
        return _("both {part}s").format(part=part)
    return _("both sides")


def paired(placements: Sequence[Placement]) -> tuple[Pair, ...]:
    """Return ``placements``, in any order, as Pairs from the center out, port before starboard."""
    out = sorted(placements, key=lambda place: (round(place.from_center / TAPE), place.position))
    found: list[Pair] = []
    left = list(out)
    while left:
        place = left.pop(0)
        twin = next(
            (each for each in left if each.position * place.position < 0 and _alike(place, each)),
            None,
        )
        if twin is not None:
            left.remove(twin)
        found.append(
            Pair(
                place.short if twin is None else _both(place, twin),
                1 if twin is None else 2,
                place.from_center,
                _own_corner(place),
                place.source,
                place.dropper is None,
            )
        )
    return tuple(found)
