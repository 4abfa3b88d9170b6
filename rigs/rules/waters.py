"""
Where a position lies to the areas of a rule set.

Sides are taken as straight lines in latitude and longitude from corner to corner, and
a position on one counts as inside. The regulation gives the corners; how a line runs
between two of them it does not say. A line of constant course and the shortest line
over the globe both keep within ``DOUBT`` of ours on every side of these areas, so that
farther off than that the answer does not turn on it.

Shapely brings NumPy with it, and few rules speak of an area: it is imported where one does.
"""

from functools import cache
from typing import TYPE_CHECKING, NamedTuple

from rigs.words.bearing import NAUTICAL_MILE, Run, degree_lengths, earth, run
from rigs.words.trip import Position

from .areas import Area

if TYPE_CHECKING:
    from shapely.geometry import Polygon

DOUBT = 0.05 * NAUTICAL_MILE
"""
How near a line a position is said to be on it, in metres.

Our own choice, no source: it covers how a side may run, and what a plotter's reading
and a position typed to the hundredth of a minute leave open.
"""

_ROUNDING = 1e-9  # degrees: a corner typed in decimal minutes is off by that from the one on file


class Side(NamedTuple):
    """The straight line from one corner to the next, both Positions, and their names."""

    names: tuple[str, str]
    start: Position
    end: Position


class Standing(NamedTuple):
    """
    Where a position stands to an area.

    ``inside`` is what ``lies_in`` says; ``side`` the nearest Side that the regulation
    gives, ``nearest`` the Position on it and ``run`` the Run there.
    """

    inside: bool | None
    side: Side
    nearest: Position
    run: Run

    @property
    def on_the_line(self) -> bool:
        """Whether the position is too near the line to say on which side of it."""
        return self.run.metres <= DOUBT


def sides(area: Area) -> tuple[Side, ...]:
    """Return the Sides of ``area`` in order, without one that something else closes."""
    corners = [(name, Position(latitude, longitude)) for name, latitude, longitude in area.corners]
    onward = corners[1:] if area.closed_by else [*corners[1:], corners[0]]
    return tuple(
        Side((name, next_name), here, there)
        for (name, here), (next_name, there) in zip(corners, onward, strict=False)
    )


@cache
def _polygon(area: Area) -> "Polygon":
    from shapely.geometry import Polygon

    return Polygon([(longitude, latitude) for _, latitude, longitude in area.corners])


@cache
def _unknown_part(area: Area) -> "Polygon":
    """Return the part between the last and the first corner that the text leaves to a shore."""
    from shapely.geometry import Polygon

    last, first = area.corners[-1], area.corners[0]
    inland = (min(last[2], first[2]), max(last[1], first[1]))
    return Polygon([(last[2], last[1]), inland, (first[2], first[1])])


def lies_in(position: Position, area: Area) -> bool | None:
    """
    Return whether ``position`` lies in ``area``: True, False or None.

    None says that it cannot be told from the corners, since the area is closed
    by something the regulation gives no points for.
    """
    from shapely.geometry import Point

    point = Point(position.longitude, position.latitude)
    if _polygon(area).distance(point) <= _ROUNDING:
        return True
    if area.closed_by and _unknown_part(area).distance(point) <= _ROUNDING:
        return None
    return False


def between(start: Position, end: Position, share: float) -> Position:
    """Return the Position that lies ``share`` (0 to 1) of the way along a side."""
    return Position(
        start.latitude + (end.latitude - start.latitude) * share,
        start.longitude + (end.longitude - start.longitude) * share,
    )


def nearest_on(side: Side, position: Position) -> Position:
    """Return the Position on ``side`` that lies nearest to ``position``."""
    nearest = position
    # The lengths of a degree are taken halfway to the place looked for, which moves it
    # by ever less.
    for _ in range(3):
        north, east = degree_lengths((position.latitude + nearest.latitude) / 2)
        dx = (side.end.longitude - side.start.longitude) * east
        dy = (side.end.latitude - side.start.latitude) * north
        px = (position.longitude - side.start.longitude) * east
        py = (position.latitude - side.start.latitude) * north
        share = (px * dx + py * dy) / (dx * dx + dy * dy)
        nearest = between(side.start, side.end, min(max(share, 0.0), 1.0))
    return nearest


def script_rules() -> dict[str, float]:
    """Return what a script needs to find a Standing as ``standing`` does."""
    return earth() | {"doubt": DOUBT, "rounding": _ROUNDING, "nautical_mile": NAUTICAL_MILE}


def standing(position: Position, area: Area) -> Standing:
    """Return the Standing of ``position`` to ``area``."""
    found = []
    for side in sides(area):
        nearest = nearest_on(side, position)
        found.append(Standing(lies_in(position, area), side, nearest, run(position, nearest)))
    return min(found, key=lambda each: each.run.metres)
