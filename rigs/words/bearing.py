"""
Distance and bearing from one position to another.

By the mid-latitude formula: the differences of latitude and longitude, each times
the earth's radius of curvature halfway between, on the WGS 84 ellipsoid that
satellite receivers use (semi-major axis and flattening as defined there). The
bearing is that of the straight line on a sea chart, which is what is steered. Over
thirty nautical miles it agrees with the geodesic to about a metre.
"""

from math import atan2, cos, degrees, hypot, radians, sin, sqrt
from typing import NamedTuple

from .say import gettext as _
from .trip import Position
from .units import KNOT, trimmed

NAUTICAL_MILE = KNOT * 3600
"""The international nautical mile in metres, by definition 1852."""

_AXIS = 6378137.0
_FLATTENING = 1 / 298.257223563
_ECCENTRICITY = _FLATTENING * (2 - _FLATTENING)  # squared

_POINTS = ("N", "NE", "E", "SE", "S", "SW", "W", "NW")


class Run(NamedTuple):
    """A distance in metres and a true bearing in degrees, clockwise from north."""

    metres: float
    bearing: float

    @property
    def distance_text(self) -> str:
        """The distance in words: ``3.42 nautical miles``."""
        return miles(self.metres)

    @property
    def bearing_text(self) -> str:
        """The bearing in words: ``215° true (SW)``."""
        return f"{round(self.bearing) % 360:03}° true ({_POINTS[round(self.bearing / 45) % 8]})"


def miles(metres: float) -> str:
    """Print a distance in metres as nautical miles, to the hundredth."""
    text = trimmed(metres / NAUTICAL_MILE, 2)
    return _("{text} nautical mile{value}").format(text=text, value="" if text == "1" else "s")


def degree_lengths(latitude: float) -> tuple[float, float]:
    """Return how many metres one degree is to the north and to the east at ``latitude``."""
    bulge = 1 - _ECCENTRICITY * sin(radians(latitude)) ** 2
    across = _AXIS / sqrt(bulge)
    along = across * (1 - _ECCENTRICITY) / bulge
    return radians(along), radians(across) * cos(radians(latitude))


def earth() -> dict[str, float]:
    """Return the ellipsoid for a script: its semi-major axis and its eccentricity squared."""
    return {"axis": _AXIS, "eccentricity": _ECCENTRICITY}


def run(start: Position, end: Position) -> Run:
    """Return the Run from the Position ``start`` to the Position ``end``."""
    to_north, to_east = degree_lengths((start.latitude + end.latitude) / 2)
    north = (end.latitude - start.latitude) * to_north
    east = (end.longitude - start.longitude) * to_east
    return Run(hypot(north, east), degrees(atan2(east, north)) % 360)
