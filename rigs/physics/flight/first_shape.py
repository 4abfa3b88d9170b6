"""The shape from which a net is brought to rest: near enough, and no more than that."""

from functools import lru_cache
from typing import NamedTuple

import numpy as np

from rigs.words.gear import PORT

from .bars import Figures
from .laid import HEAD, WING_END, Station

WING_SHARE = 0.22  # half of what stands between the wing ends, as a share of the footrope


class Shape(NamedTuple):
    """
    A first guess; metres. ``aft`` is how far behind the doors the wing ends are.

    ``wing`` is how far out they stand, ``ends`` {side: (headrope, footrope)} how far the ropes
    reach from their centers.
    """

    aft: float
    wing: float
    ends: dict[str, tuple[float, float]]

    def of(self, station: Station) -> Figures:
        """Return where ``station`` starts: aft, to starboard, up."""
        sign = -1 if station.side == PORT else 1
        if station.part == WING_END:
            return np.array([self.aft, sign * self.wing, 1.8 - 1.4 * station.out])
        head, foot = self.ends[station.side]
        upper = station.part == HEAD
        aft, out = self._arc(station.out, head if upper else foot)
        up = 2.6 - 0.8 * station.out / head if upper else 0.4
        return np.array([self.aft + aft, sign * out, up])

    def behind(self, deep: float) -> Figures:
        """Return where netting ``deep`` metres long behind the footrope ends."""
        foot = max(foot for __, foot in self.ends.values())
        return np.array([self.aft + self._arc(0.0, foot)[0] + 0.97 * deep, 0.0, 1.2])

    def _arc(self, out: float, long: float) -> tuple[float, float]:
        """Return (aft of the wing ends, to the side) of a place on a rope ``long`` metres long."""
        along, aft, side = _arc(min(self.wing, 0.95 * long), long)
        return float(np.interp(out, along, aft)), float(np.interp(out, along, side))


@lru_cache(maxsize=64)
def _arc(wing: float, long: float) -> tuple[Figures, Figures, Figures]:
    """Return (along, aft, to the side) of an arc ``long`` metres long that ends ``wing`` out."""
    flat = np.linspace(0.0, 1.0, 100)
    least, most = 0.0, long
    for __ in range(30):
        deep = (least + most) / 2
        aft, side = deep * (1 - flat**2), wing * flat
        along = np.concatenate([[0.0], np.hypot(np.diff(aft), np.diff(side)).cumsum()])
        least, most = (deep, most) if along[-1] < long else (least, deep)
    return along, aft, side
