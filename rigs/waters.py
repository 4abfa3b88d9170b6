"""
Whether a position lies in one of the areas of a rule set.

Borders are taken as straight lines in latitude and longitude, and a position on
one counts as inside. The regulation gives the corners; how a line runs between
two of them it does not say, and over the short sides of these areas it matters
by metres only.
"""

from functools import cache

from shapely.geometry import Point, Polygon


@cache
def _polygon(area):
    return Polygon([(longitude, latitude) for _, latitude, longitude in area.corners])


@cache
def _unknown_part(area):
    """Return the part between the last and the first corner that the text leaves to a shore."""
    last, first = area.corners[-1], area.corners[0]
    inland = (min(last[2], first[2]), max(last[1], first[1]))
    return Polygon([(last[2], last[1]), inland, (first[2], first[1])])


def lies_in(position, area):
    """
    Return whether ``position`` lies in ``area``: True, False or None.

    None says that it cannot be told from the corners, since the area is closed
    by something the regulation gives no points for.
    """
    point = Point(position.longitude, position.latitude)
    # A corner that is typed in decimal minutes is off by rounding from the one on file.
    if _polygon(area).distance(point) <= 1e-9:
        return True
    if area.closed_by and _unknown_part(area).distance(point) <= 1e-9:
        return None
    return False
