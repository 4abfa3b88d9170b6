"""
Whether corners, joined in order and the last to the first, enclose one piece of water.

Sides are straight lines in latitude and longitude, as ``waters`` takes them.
"""

from collections.abc import Iterable, Sequence
from itertools import combinations

from rigs.words.say import gettext as _

from .areas import Corner

Point = tuple[float, float]
"""Longitude and latitude."""

Stroke = tuple[Point, Point]
"""A side, from one point to the next."""

MOST_LATITUDE, MOST_LONGITUDE = 90.0, 180.0


def out_of_range(latitude: float, longitude: float) -> str:
    """Return what is wrong with degrees north and west as they are written, empty if nothing."""
    if not 0 <= latitude <= MOST_LATITUDE:
        return _("the latitude must lie between 0 and {MOST_LATITUDE:g} degrees north").format(
            MOST_LATITUDE=MOST_LATITUDE
        )
    if not 0 <= longitude <= MOST_LONGITUDE:
        return _("the longitude must lie between 0 and {MOST_LONGITUDE:g} degrees west").format(
            MOST_LONGITUDE=MOST_LONGITUDE
        )
    return ""


def repeated(corners: Iterable[Corner]) -> int | None:
    """
    Return the place in ``corners`` of the first whose name or point was there before.

    ``corners`` are (name, latitude, longitude). None if no two are the same.
    """
    names: set[str] = set()
    points: set[Point] = set()
    for place, (name, latitude, longitude) in enumerate(corners):
        if name in names or (longitude, latitude) in points:
            return place
        names.add(name)
        points.add((longitude, latitude))
    return None


def crossing(corners: Sequence[Corner]) -> tuple[int, int] | None:
    """
    Return the places of two sides that cross or touch where they should not, else None.

    A side has the place of the corner that it starts from. ``corners`` are as in
    ``repeated``, and no two of them the same.
    """
    points = [(longitude, latitude) for __, latitude, longitude in corners]
    sides = list(zip(points, [*points[1:], points[0]], strict=True))
    for first, second in combinations(range(len(sides)), 2):
        if second == first + 1:
            met = _folds_back(sides[first], sides[second])
        elif (first, second) == (0, len(sides) - 1):
            met = _folds_back(sides[second], sides[first])
        else:
            met = _meet(sides[first], sides[second])
        if met:
            return first, second
    return None


def _turn(a: Point, b: Point, c: Point) -> float:
    """Return more than 0 where a, b, c turn left, less where right, 0 on one line."""
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def _folds_back(side: Stroke, following: Stroke) -> bool:
    """Return whether ``following`` runs back over ``side``, at whose end it starts."""
    (a, b), (__, c) = side, following
    ahead = (b[0] - a[0]) * (c[0] - b[0]) + (b[1] - a[1]) * (c[1] - b[1])
    return _turn(a, b, c) == 0 and ahead < 0


def _between(a: Point, b: Point, c: Point) -> bool:
    """Return whether ``c``, on the line of ``a`` and ``b``, lies from one to the other."""
    return min(a[0], b[0]) <= c[0] <= max(a[0], b[0]) and min(a[1], b[1]) <= c[1] <= max(a[1], b[1])


def _meet(side: Stroke, other: Stroke) -> bool:
    (a, b), (c, d) = side, other
    turns = _turn(a, b, c), _turn(a, b, d), _turn(c, d, a), _turn(c, d, b)
    if turns[0] * turns[1] < 0 and turns[2] * turns[3] < 0:
        return True
    ends = ((a, b, c), (a, b, d), (c, d, a), (c, d, b))
    return any(turn == 0 and _between(*three) for turn, three in zip(turns, ends, strict=True))
