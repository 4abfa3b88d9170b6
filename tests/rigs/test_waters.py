"""
Every corner and side of every area, just inside and just outside, and every first and
last day: 50 CFR 648.80(a)(9)(i), (a)(15) and (a)(16), and the closures of 648.81(d) and
(e), read in an older snapshot.
"""

from datetime import date, timedelta
from math import asin, asinh, atan2, cos, degrees, pi, radians, sin, sqrt, tan

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import LineString, Point

from rigs.rules import openings, rulebook
from rigs.rules.judge import judge
from rigs.rules.waters import DOUBT, between, lies_in, nearest_on, sides, standing
from rigs.words.bearing import NAUTICAL_MILE, run
from rigs.words.trip import Position, Trip

AREAS = {
    f"{book.name}: {area.title}": (book, area)
    for book in openings.fisheries()
    for key in ("area", "closures")
    if book.has(key)
    for area in book.requirement(key).limit
}
SIDES = {
    f"{name}, {' to '.join(side.names)}": (area, side)
    for name, (_, area) in AREAS.items()
    for side in sides(area)
}
every_area = pytest.mark.parametrize(("book", "area"), list(AREAS.values()), ids=list(AREAS))
every_side = pytest.mark.parametrize(("area", "side"), list(SIDES.values()), ids=list(SIDES))

STEP = 0.001 / 60  # a thousandth of a minute, in degrees


def moved(position, north, east):
    return Position(position.latitude + north, position.longitude + east)


def winds_round(position, area):
    """
    Return whether ``position`` lies in ``area`` by the sum of the angles its corners are
    seen under, which is a whole turn from inside and none from outside.
    """
    angles = [
        atan2(latitude - position.latitude, longitude - position.longitude)
        for _, latitude, longitude in area.corners
    ]
    onward = [*angles[1:], angles[0]]
    turns = [(b - a + pi) % (2 * pi) - pi for a, b in zip(angles, onward, strict=True)]
    return abs(sum(turns)) > pi


@every_area
def test_corners_count_as_inside_and_what_is_round_them_as_it_lies(book, area):
    for name, latitude, longitude in area.corners:
        corner = Position(latitude, longitude)
        assert lies_in(corner, area) is True, name
        seen = set()
        for i in range(24):
            angle = (i + 0.5) * pi / 12
            near = moved(corner, STEP * sin(angle), STEP * cos(angle))
            seen.add(winds_round(near, area))
            # Behind a shoreline it is not known, which is not the same as outside.
            assert bool(lies_in(near, area)) == winds_round(near, area), (name, near)
        assert seen == {True, False}, name


@every_side
def test_sides_count_as_inside_all_along(area, side):
    for share in (0.25, 0.5, 0.75):
        assert lies_in(between(side.start, side.end, share), area) is True


@every_side
def test_just_inside_and_just_outside_of_a_side(area, side):
    middle = between(side.start, side.end, 0.5)
    north = side.end.latitude - side.start.latitude
    east = side.end.longitude - side.start.longitude
    size = sqrt(north**2 + east**2)
    across = (-east / size * STEP, north / size * STEP)
    port, starboard = moved(middle, *across), moved(middle, -across[0], -across[1])
    assert {lies_in(port, area), lies_in(starboard, area)} == {True, False}
    for each in (port, starboard):
        assert lies_in(each, area) == winds_round(each, area)


@every_side
def test_what_is_on_a_side_is_said_to_be_on_the_line(area, side):
    for share in (0.0, 0.5, 1.0):
        found = standing(between(side.start, side.end, share), area)
        assert found.inside is True
        assert found.on_the_line
        assert found.run.metres == pytest.approx(0, abs=0.01)
    assert standing(between(side.start, side.end, 0.5), area).side == side


@every_side
def test_on_the_line_ends_where_it_is_said_to(area, side):
    """To either side of the middle, as measured by ``run``; sides are longer than that."""
    middle = between(side.start, side.end, 0.5)
    course = radians(run(side.start, side.end).bearing + 90)
    to_north, to_east = NAUTICAL_MILE * 60, NAUTICAL_MILE * 60 * cos(radians(middle.latitude))
    for metres, expected in ((0.95 * DOUBT, True), (1.05 * DOUBT, False)):
        for way in (1, -1):
            place = moved(
                middle,
                way * metres * cos(course) / to_north,
                way * metres * sin(course) / to_east,
            )
            assert standing(place, area).on_the_line is expected


@every_side
def test_it_does_not_turn_on_how_a_side_is_drawn(area, side):
    """
    A line of constant course (Mercator's straight line) and a great circle between the
    same corners keep within what is called on the line, by formulas of their own.
    """

    def stretched(latitude):
        return asinh(tan(radians(latitude)))

    def vector(p):
        a, b = radians(p.latitude), radians(p.longitude)
        return cos(a) * cos(b), cos(a) * sin(b), sin(a)

    start, end = side.start, side.end
    for i in range(1, 40):
        share = i / 40
        latitude = start.latitude + (end.latitude - start.latitude) * share
        rise = stretched(end.latitude) - stretched(start.latitude)
        along = (stretched(latitude) - stretched(start.latitude)) / rise if rise else share
        steered = Position(latitude, start.longitude + (end.longitude - start.longitude) * along)
        x, y, z = (a + (b - a) * share for a, b in zip(vector(start), vector(end), strict=True))
        shortest = Position(degrees(asin(z / sqrt(x * x + y * y + z * z))), degrees(atan2(y, x)))
        for place in (steered, shortest):
            assert run(place, nearest_on(side, place)).metres < DOUBT


WATERS = (41.2, 44.2), (-71.0, -69.0)


def places_near(area):
    """Return a strategy for places within seventy miles of a side of ``area``."""
    bounds = []
    for axis, (least, most) in enumerate(WATERS, 1):
        ends = [corner[axis] for corner in area.corners]
        reached = least <= max(ends) and min(ends) <= most
        bounds.append((least, most) if reached else (min(ends) - 0.5, max(ends) + 0.5))
    return st.builds(Position, *(st.floats(*each) for each in bounds))


@every_area
@given(data=st.data())
def test_the_nearest_side_is_as_far_as_shapely_says_on_a_squeezed_plane(book, area, data):
    """Longitudes times the cosine of the position's latitude, a degree of sixty miles."""
    position = data.draw(places_near(area))
    squeeze = cos(radians(position.latitude))
    lines = [
        LineString([(each.longitude * squeeze, each.latitude) for each in (side.start, side.end)])
        for side in sides(area)
    ]
    point = Point(position.longitude * squeeze, position.latitude)
    expected = min(line.distance(point) for line in lines) * 60 * NAUTICAL_MILE
    found = standing(position, area)
    # Sides far off are drawn askew on such a plane: half a percent within ten miles.
    assert found.run.metres == pytest.approx(expected, rel=0.005 + expected / 4e6, abs=5)
    assert found.inside == lies_in(position, area)


@every_area
@given(data=st.data())
def test_no_place_on_any_side_is_nearer(book, area, data):
    position = data.draw(places_near(area))
    found = standing(position, area)
    least = min(
        run(position, between(side.start, side.end, i / 60)).metres
        for side in sides(area)
        for i in range(61)
    )
    # The longest sight line here is seventy miles, and found to a few metres.
    assert found.run.metres <= least * 1.00005 + 0.1


def test_a_side_that_the_shore_closes_is_none():
    _, grate = AREAS["grate: the grate fishery's area"]
    assert [side.names for side in sides(grate)] == [
        ("GRF1", "GRF2"),
        ("GRF2", "GRF3"),
        ("GRF3", "GRF4"),
        ("GRF4", "GRF5"),
    ]
    # On the chord from the last corner to the first there is no line to be near to.
    chord = between(Position(*grate.corners[-1][1:]), Position(*grate.corners[0][1:]), 0.5)
    found = standing(chord, grate)
    assert found.inside is True
    assert not found.on_the_line
    assert found.side.names != ("GRF5", "GRF1")
    # A step beyond it, landwards, is where the text leaves off; a step seawards is inside.
    assert lies_in(moved(chord, STEP, -STEP), grate) is None
    assert lies_in(moved(chord, -STEP, STEP), grate) is True


# Days ---------------------------------------------------------------------------

DAY = timedelta(days=1)
INSIDE = {
    "whiting": Position(42 + 0 / 60, -(69 + 45 / 60)),
    "grate": Position(43.5, -(69 + 50 / 60)),
    "small-mesh-1": Position(42 + 50 / 60, -(70 + 35 / 60)),
    "small-mesh-2": Position(42 + 50 / 60, -(69 + 50 / 60)),
}


@pytest.mark.parametrize("year", [2025, 2028])
@pytest.mark.parametrize(
    ("name", "first", "last"),
    [
        ("whiting", (9, 1), (12, 31)),
        ("grate", (7, 1), (11, 30)),
        ("small-mesh-1", (7, 15), (11, 15)),
        ("small-mesh-2", (1, 1), (6, 30)),
    ],
)
def test_first_and_last_days_with_the_days_beside_them(name, first, last, year):
    first, last = date(year, *first), date(year, *last)
    book = rulebook.load(name)
    for day, expected in (
        (first - DAY, "fail"),
        (first, "pass"),
        (last, "pass"),
        (last + DAY, "fail"),
    ):
        verdict = judge(None, book, day, Trip(day, INSIDE[name]))
        assert verdict.finding("season").outcome == expected, day
        answer = openings.answer(book, Trip(day, INSIDE[name]))
        assert any(part.is_open for part in answer.parts) == (expected == "pass"), day
        # Inside the lines, but on a day on which none of them is open, is outside.
        assert verdict.finding("area").outcome == expected


WHITING = rulebook.load("whiting", "1")
WESTERN_CORNERS = WHITING.requirement("area").limit[0].corners[9:]


@pytest.mark.parametrize(
    ("day", "west", "whole_open", "east_open"),
    [
        ((8, 31), "fail", False, False),
        ((9, 1), "pass", True, False),
        ((11, 20), "pass", True, False),
        ((11, 21), "fail", False, True),
        ((12, 31), "fail", False, True),
    ],
)
def test_the_west_shuts_after_the_twentieth_of_november(day, west, whole_open, east_open):
    day = date(2025, *day)
    for name, latitude, longitude in WESTERN_CORNERS:
        trip = Trip(day, Position(latitude, longitude))
        assert judge(None, WHITING, day, trip).finding("area").outcome == west, name
    answer = openings.answer(WHITING, Trip(day, INSIDE["whiting"]))
    assert [part.is_open for part in answer.parts] == [whole_open, east_open]


@pytest.mark.parametrize(("day", "west"), [((11, 20), "pass"), ((11, 21), "fail")])
def test_the_line_between_east_and_west_belongs_to_the_east(day, west):
    eastern = WHITING.requirement("area").limit[1]
    cut = sides(eastern)[-1]
    assert cut.names == ("RF9", "RF1")
    middle = between(cut.start, cut.end, 0.5)
    day = date(2025, *day)
    for place, expected in ((middle, "pass"), (moved(middle, 0, STEP), "pass")):
        assert judge(None, WHITING, day, Trip(day, place)).finding("area").outcome == expected
    beyond = Trip(day, moved(middle, 0, -STEP))
    assert judge(None, WHITING, day, beyond).finding("area").outcome == west
