"""
Where the position at the head of an officer's sheet lies to the waters of a rule.

Nearer a line than ``waters.DOUBT`` nobody can say on which side it lies, so neither is said.
"""

from typing import NamedTuple

from rigs.words.trip import Position

from .areas import Area
from .outcomes import FAIL, NOT_MEASURED, PASS
from .waters import Standing, standing

INSIDE, OUTSIDE, NEAR, SHORE = "in", "out", "near", "shore"
"""How a position lies to an area; SHORE where it has no line to go by."""


class Placed(NamedTuple):
    """The Area that settles it, and the Standing of the position to that."""

    area: Area
    standing: Standing

    @property
    def way(self) -> str:
        """How the position lies: INSIDE, OUTSIDE, NEAR or SHORE."""
        if self.standing.on_the_line:
            return NEAR
        return {True: INSIDE, False: OUTSIDE, None: SHORE}[self.standing.inside]


_ORDER = (INSIDE, NEAR, SHORE, OUTSIDE)
"""Of several areas, the first of these that the position lies in settles it."""


def settle(position: Position, areas: tuple[Area, ...]) -> Placed:
    """Return how ``position`` lies to that of ``areas`` which settles where it is."""
    placed = [Placed(area, standing(position, area)) for area in areas]
    return min(placed, key=lambda each: (_ORDER.index(each.way), each.standing.run.metres))


def outcome(test: str, placed: Placed) -> str:
    """Return how a rule comes out by whose ``test`` one lies ``inside`` or ``outside``."""
    if placed.way not in (INSIDE, OUTSIDE):
        return NOT_MEASURED
    return PASS if (placed.way == INSIDE) is (test == "inside") else FAIL
