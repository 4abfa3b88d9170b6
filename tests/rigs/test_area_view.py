"""The sea chart of an area: everything at its place, and what is told under it."""

from datetime import date
from math import cos, hypot, radians

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigs.drawing import png
from rigs.drawing.area import NEAR, area_view
from rigs.drawing.lettering import Box, text_box
from rigs.drawing.projection import Bounds, Projection
from rigs.drawing.scene import Circle, Line, Polyline
from rigs.rules import openings, rulebook
from rigs.words.bearing import NAUTICAL_MILE, run
from rigs.words.trip import Position, Trip
from tests.rigs.drawn import overlapping

BOOKS = openings.fisheries()
WHITING = rulebook.load("whiting", "1")
EAST = Position(42.0, -69.75)
every_book = pytest.mark.parametrize("book", BOOKS, ids=lambda book: book.name)
days = st.dates(date(2025, 1, 1), date(2025, 12, 31))
places = st.none() | st.builds(Position, st.floats(40, 45), st.floats(-72, -68))


def view(book, day, position=None, closures=False):
    answer = openings.answer(book, Trip(day, position))
    return area_view(answer.parts, position, answer.closures if closures else ())


def outlines(scene, style):
    """Return what is drawn of areas in ``style``, without the sign in the key."""
    return [part for part in scene.of_style(style) if isinstance(part, Polyline)]


@every_book
@settings(max_examples=25)
@given(days, places, st.booleans())
def test_lettering_is_on_the_paper_and_clear_of_other_lettering(book, day, position, closures):
    scene = view(book, day, position, closures)
    paper = Box(0, 0, scene.width, scene.height)
    assert [t.text for t in scene.texts if not text_box(t).within(paper)] == []
    assert overlapping(scene) == []


@every_book
def test_sides_are_as_long_as_the_scale_says(book):
    """Within two hundredths, since the chart is squeezed by one cosine for all of it."""
    scene = view(book, date(2025, 9, 15))
    scale = float(dict(scene.data)["metres-per-unit"])
    area = book.requirement("area").limit[0]
    corners = [Position(latitude, longitude) for _, latitude, longitude in area.corners]
    lines = outlines(scene, "area-side") + outlines(scene, "area-shut")
    drawn = max(lines, key=lambda line: len(line.points)).points
    for a, b, (x1, y1), (x2, y2) in zip(corners, corners[1:], drawn, drawn[1:], strict=False):
        assert hypot(x2 - x1, y2 - y1) * scale == pytest.approx(run(a, b).metres, rel=0.02)


@every_book
def test_the_scale_bar_is_as_long_as_it_says(book):
    scene = view(book, date(2025, 9, 15))
    bar = max(scene.of_style("scale"), key=lambda line: abs(line.x2 - line.x1))
    (words,) = [text.text for text in scene.texts if text.text.endswith(("mile", "miles"))]
    scale = float(dict(scene.data)["metres-per-unit"])
    assert (bar.x2 - bar.x1) * scale == pytest.approx(int(words.split()[0]) * NAUTICAL_MILE)


def test_north_is_up_and_east_to_the_right():
    bounds = Bounds.round([Position(42, -70), Position(43, -69)], 0.1)
    paper = Projection(bounds, 10, 20, 300)
    assert paper.at(Position(bounds.north, bounds.west)) == (10, 20)
    x, y = paper.at(Position(bounds.south, bounds.east))
    assert (x, y) == (pytest.approx(310), pytest.approx(20 + paper.height))
    # A degree of latitude is longer on paper than one of longitude by the secant.
    tall = paper.y(42) - paper.y(43)
    assert paper.x(-69) - paper.x(-70) == pytest.approx(tall * cos(radians(42.5)))


@pytest.mark.parametrize(("least", "most"), [(0.5, 0.8), (1.5, 2.0), (0.1, 9)])
def test_bounds_are_widened_to_a_shape_and_hold_what_they_held(least, most):
    places = [Position(42, -70), Position(43, -69)]
    bounds = Bounds.round(places, 0.1).shaped(least, most)
    shape = Projection(bounds, 0, 0, 1).height
    assert least - 1e-9 <= shape <= most + 1e-9
    assert all(bounds.south < p.latitude < bounds.north for p in places)
    assert all(bounds.west < p.longitude < bounds.east for p in places)


def test_the_graticule_is_numbered():
    words = {text.text for text in view(WHITING, date(2025, 9, 15)).texts}
    assert {"42°00′N", "42°10′N", "70°00′W"} <= words


@every_book
def test_every_corner_is_marked_and_told(book):
    scene = view(book, date(2025, 9, 15))
    names = {name for area in book.requirement("area").limit for name, _, _ in area.corners}
    dots = [part for part in scene.of_style("dropper") if isinstance(part, Circle)]
    assert len(dots) == len(names)
    written = {text.text for text in scene.texts}
    assert names <= written
    assert all(name in scene.description for name in names)


def test_the_position_is_marked_with_the_way_to_the_nearest_side():
    scene = view(WHITING, date(2025, 10, 1), EAST)
    (ring,) = [part for part in scene.of_style("position") if isinstance(part, Circle)]
    (way,) = [part for part in scene.of_style("nearest") if isinstance(part, Line)]
    assert (way.x1, way.y1) == (ring.x, ring.y)
    scale = float(dict(scene.data)["metres-per-unit"])
    (part, _) = openings.answer(WHITING, Trip(date(2025, 10, 1), EAST)).parts
    told = part.standing.run
    assert hypot(way.x2 - way.x1, way.y2 - way.y1) * scale == pytest.approx(told.metres, rel=0.02)
    assert told.distance_text in scene.description
    assert told.bearing_text in scene.description


def test_a_position_on_the_line_is_told_so():
    _, latitude, longitude = WHITING.requirement("area").limit[0].corners[3]
    scene = view(WHITING, date(2025, 10, 1), Position(latitude, longitude))
    assert "lies on the line RF3 to RF4" in scene.description


def test_a_position_far_off_is_told_but_not_drawn():
    far = Position(40.0, -69.75)
    (part, _) = openings.answer(WHITING, Trip(date(2025, 10, 1), far)).parts
    assert part.standing.run.metres > NEAR
    scene = view(WHITING, date(2025, 10, 1), far)
    assert scene.of_style("position") == []
    assert "too far away to show" in scene.description


@pytest.mark.parametrize(
    ("day", "filled", "dashed"),
    [((8, 1), 0, 2), ((10, 1), 1, 1), ((12, 1), 1, 1), ((2, 1), 0, 2)],
)
def test_what_is_open_on_the_day_is_filled(day, filled, dashed):
    scene = view(WHITING, date(2025, *day))
    # The key has a swatch of its own.
    assert len(scene.of_style("area-open")) == filled + bool(filled)
    assert len(outlines(scene, "area-shut")) == dashed


def test_where_the_shore_closes_no_side_is_drawn():
    scene = view(rulebook.load("grate", "1"), date(2025, 8, 1))
    (side,) = outlines(scene, "area-side")
    assert side.points[0] != side.points[-1]
    assert len(scene.of_style("shore")) == 2  # on the chart and in its key
    assert "closed by the shoreline" in scene.description


def test_it_can_be_printed():
    assert png.render(view(WHITING, date(2025, 10, 1), EAST), 300).startswith(b"\x89PNG")


def test_closures_are_drawn_where_they_reach_onto_the_chart():
    """648.81(e): the southern edge at 42 15 N lies just north of RF1, 42 14.05 N."""
    scene = view(WHITING, date(2025, 10, 1), closures=True)
    (closure, swatch) = scene.of_style("closure")
    scale = float(dict(scene.data)["metres-per-unit"])
    # The side that faces the fishery, from 70 15 to 69 55 W: 20 minutes of longitude.
    south = max(y for _, y in closure.points)
    west, east = (f(x for x, y in closure.points if y == pytest.approx(south)) for f in (min, max))
    length = run(Position(42.25, -70.25), Position(42.25, -(69 + 55 / 60))).metres
    assert (east - west) * scale == pytest.approx(length, rel=0.02)
    assert "Western Gulf of Maine closure" in {text.text for text in scene.texts}
    for name in ("CL1", "CL6", "WGM1", "WGM4"):
        assert f"{name} " in scene.description
    assert len(swatch.points) == 4


def test_without_closures_on_the_chart_its_key_has_none():
    """Area 1 lies 7 minutes of longitude west of the Western Gulf of Maine closure."""
    scene = view(rulebook.load("small-mesh-1", "1"), date(2025, 10, 1), closures=True)
    assert scene.of_style("closure") == []
    assert not any("closure" in text.text for text in scene.texts)
