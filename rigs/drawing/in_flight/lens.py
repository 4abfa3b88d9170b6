"""From places in the sea to places on a drawing."""

from collections.abc import Iterable, Sequence
from itertools import pairwise
from typing import NamedTuple

import numpy as np

from rigs.physics.flight.bars import Figures

from ..scene import XY


class Lens(NamedTuple):
    """
    What a place (metres aft, to starboard, up) comes to on a drawing.

    ``right`` and ``down`` are the units to the metre each of the three counts for, and
    ``origin`` is where the place of the doors' middle on the bottom falls.
    """

    right: tuple[float, float, float]
    down: tuple[float, float, float]
    origin: XY

    def at(self, place: Figures) -> XY:
        """Return the drawing's (x, y) of ``place``."""
        x, y = np.array([self.right, self.down]) @ place
        return self.origin[0] + float(x), self.origin[1] + float(y)

    def line(self, places: Iterable[Figures]) -> tuple[XY, ...]:
        """Return the drawing's points of ``places``."""
        return tuple(map(self.at, places))


def largest(most: float, room: float, times: Sequence[int]) -> int:
    """Return the largest of ``times`` by which ``most`` units still find ``room``, or the least."""
    return max((each for each in times if each * most <= room), default=min(times))


def cut_off(points: Sequence[XY], low: XY, high: XY) -> tuple[XY, ...]:
    """Return the line through ``points`` to where it leaves the box from ``low`` to ``high``."""
    found = [points[0]]
    for start, end in pairwise(points):
        share = 1.0
        for a, b, least, most in zip(start, end, low, high, strict=True):
            if b < least or b > most:
                share = min(share, ((least if b < least else most) - a) / (b - a))
        found.append(
            (start[0] + (end[0] - start[0]) * share, start[1] + (end[1] - start[1]) * share)
        )
        if share < 1.0:
            break
    return tuple(found)
