"""
Positions laid out on paper: the plate carrée, squeezed by the cosine of its latitude.

Latitude and longitude are each drawn evenly, so that a side that is straight in them is
straight on the paper, and distances are true along every meridian and along the
parallel in the middle. Over the fifty miles of a fishery's area the shape is true to
within a hundredth.
"""

from collections.abc import Sequence
from math import cos, radians
from typing import NamedTuple

from rigs.words.bearing import degree_lengths
from rigs.words.trip import Position

from .scene import XY


class Bounds(NamedTuple):
    """A stretch of sea in decimal degrees, north and east positive."""

    south: float
    west: float
    north: float
    east: float

    @classmethod
    def round(cls, positions: Sequence[Position], margin: float) -> "Bounds":
        """
        Return the Bounds of ``positions`` and a margin beside them.

        The margin is a share of the longer of height and width.
        """
        latitudes = [each.latitude for each in positions]
        longitudes = [each.longitude for each in positions]
        squeeze = cos(radians((min(latitudes) + max(latitudes)) / 2))
        room = margin * max(
            max(latitudes) - min(latitudes), (max(longitudes) - min(longitudes)) * squeeze
        )
        return cls(
            min(latitudes) - room,
            min(longitudes) - room / squeeze,
            max(latitudes) + room,
            max(longitudes) + room / squeeze,
        )

    @property
    def middle(self) -> float:
        """The latitude halfway between south and north."""
        return (self.south + self.north) / 2

    @property
    def squeeze(self) -> float:
        """How many degrees of latitude are as long as one of longitude."""
        return cos(radians(self.middle))

    def shaped(self, least: float, most: float) -> "Bounds":
        """Return these Bounds widened until height over width is from ``least`` to ``most``."""
        height, width = self.north - self.south, (self.east - self.west) * self.squeeze
        more = max(least * width - height, 0.0) / 2
        wider = max(height / most - width, 0.0) / self.squeeze / 2
        return Bounds(self.south - more, self.west - wider, self.north + more, self.east + wider)

    def holds(self, position: Position) -> bool:
        """Return whether ``position`` lies in these Bounds."""
        return (
            self.south <= position.latitude <= self.north
            and self.west <= position.longitude <= self.east
        )


class Projection:
    """Maps positions in ``bounds`` to drawing units, ``width`` of them wide from ``left``."""

    def __init__(self, bounds: Bounds, left: float, top: float, width: float) -> None:
        self.bounds, self.left, self.top, self.width = bounds, left, top, width
        self._east = width / (bounds.east - bounds.west)
        self._north = self._east / bounds.squeeze
        self.height = (bounds.north - bounds.south) * self._north

    @property
    def metres_per_unit(self) -> float:
        """How many metres one drawing unit is, to the north and in the middle to the east."""
        return degree_lengths(self.bounds.middle)[0] / self._north

    def at(self, position: Position) -> XY:
        """Return the drawing's (x, y) of ``position``."""
        return self.x(position.longitude), self.y(position.latitude)

    def x(self, longitude: float) -> float:
        """Return the drawing's x of a meridian."""
        return self.left + (longitude - self.bounds.west) * self._east

    def y(self, latitude: float) -> float:
        """Return the drawing's y of a parallel."""
        return self.top + (self.bounds.north - latitude) * self._north
