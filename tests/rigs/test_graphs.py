"""The graphs of figures: each shape where its figure says, all lettering clear and readable."""

from datetime import date, datetime, timedelta
from math import inf

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigs.drawing import png, svg
from rigs.drawing.bars import Bar, bars_view
from rigs.drawing.curve import CurveFigure, CurvePoint, curve_view
from rigs.drawing.flow import Flow, flow_view
from rigs.drawing.graph import Axis, Days, every, ratio_ticks, spread, whole_ticks
from rigs.drawing.lettering import text_box
from rigs.drawing.ratios import Estimate, RatioRow, ratios_view
from rigs.drawing.scene import Circle, Polygon, Text
from rigs.drawing.stack import Band, stack_view
from rigs.drawing.titled import titled
from rigs.words.days import short_day
from tests.rigs.drawn import overlapping

NAMES = ("fishing without a sweep", "rig checked", "net planned", "in training", "gone back")
SIDES = ("less without the sweep", "more without the sweep")
SIGNS = ("all catches together", "goes on beyond the edge")


FIRST = date(2024, 2, 3)


def months(count):
    """Return the first and the last day of so many months."""
    firsts = [date(2024 + i // 12, i % 12 + 1, 1) for i in range(count + 1)]
    return [(a, b - timedelta(days=1)) for a, b in zip(firsts, firsts[1:], strict=False)]


@st.composite
def bands(draw):
    """Draw days, not too near to be told apart, the last day, and bands that change on them."""
    gaps = draw(st.lists(st.integers(10, 40), max_size=70))
    days = [FIRST + timedelta(days=sum(gaps[:i])) for i in range(len(gaps) + 1)]
    counts = st.lists(st.integers(0, 3000), min_size=len(days), max_size=len(days))
    return (
        days,
        days[-1] + timedelta(days=draw(st.integers(0, 40))),
        [
            Band(6 - i, name, tuple(draw(counts)), f"band-{i}", i == 5)
            for i, name in enumerate(NAMES, 1)
        ],
    )


@st.composite
def flows(draw):
    count = draw(st.integers(1, 70))
    counts = st.lists(st.integers(0, 400), min_size=count, max_size=count)
    return months(count), draw(counts), draw(counts)


@st.composite
def curves(draw):
    times = sorted(draw(st.sets(st.floats(0, 90), max_size=30)))
    shares = sorted(draw(st.lists(st.floats(0, 1), min_size=len(times), max_size=len(times))))
    points = [
        CurvePoint(
            time, share, share * 0.8 if share else None, min(1, share * 1.1) if share else None
        )
        for time, share in zip(times, shares, strict=True)
    ]
    return points, draw(st.floats(max([0.5, *times]), 95))


ratios = st.floats(0.001, 90)
estimates = (
    st.builds(
        lambda value, out: Estimate(value, value / out, value * out), ratios, st.floats(1, 30)
    )
    | ratios.map(Estimate)
    | st.sampled_from([Estimate(0), Estimate(inf), Estimate(0.02, 0, inf)])
)
ratio_rows = st.lists(
    st.builds(
        RatioRow, st.sampled_from(NAMES), estimates, st.sampled_from(["", "no range: none caught"])
    ),
    min_size=1,
    max_size=9,
)
bar_rows = st.lists(
    st.builds(
        lambda name, whole, share, told: Bar(
            name, whole * share if told else None, whole, f"{share:.2f} of {whole}"
        ),
        st.sampled_from([*NAMES, "a name as long as staff may make it, sixty letters and so on"]),
        st.integers(0, 4000),
        st.floats(0, 1),
        st.booleans(),
    ),
    min_size=1,
    max_size=12,
)


def check(scene):
    """Hold ``scene`` to what every drawing of the site is held to."""
    for text in scene.texts:
        box = text_box(text)
        assert box.left >= -0.5, text
        assert box.right <= scene.width + 0.5, text
        assert box.top >= 0, text
        assert box.bottom <= scene.height, text
        assert text.size >= 12
    assert not overlapping(scene)
    drawn = svg.render(scene)
    assert drawn.count("<text") == len(scene.texts)
    assert "<desc" in drawn


def surfaces(scene, style):
    return [part for part in scene.of_style(style) if isinstance(part, Polygon)]


@settings(max_examples=40)
@given(bands())
def test_a_stack_changes_on_its_days_and_is_as_high_as_its_counts(case):
    days, until, sorts = case
    scene = stack_view("Uptake", "Vessels", days, until, sorts)
    check(scene)
    total = max(sum(column) for column in zip(*(band.values for band in sorts), strict=True))
    axis = Axis(0, whole_ticks(max(total, 1))[-1], 236, 34)
    span = (until - days[0]).days + 1
    below = [0] * len(days)
    for band in sorts:
        above = [low + value for low, value in zip(below, band.values, strict=True)]
        shapes = surfaces(scene, band.style)
        # The last is the key's.
        assert len(shapes) == 1 + any(band.values)
        if any(band.values):
            corners = shapes[0].points[: 2 * len(days)]
            assert [y for _, y in corners[::2]] == pytest.approx([axis.at(high) for high in above])
            lefts = [46 + (318 - 46) * (day - days[0]).days / span for day in days]
            assert [x for x, _ in corners[::2]] == pytest.approx(lefts)
            assert [x for x, _ in corners[1::2]] == pytest.approx([*lefts[1:], 318])
        below = above


@settings(max_examples=40)
@given(bands())
def test_a_stack_names_each_band_with_its_latest_count_by_number(case):
    days, until, sorts = case
    scene = stack_view("Uptake", "Vessels", days, until, sorts)
    words = [text.text for text in scene.texts]
    names = [f"{band.number} {band.name}: {band.values[-1]}" for band in sorts]
    assert [each for each in words if each in names] == sorted(names)
    for band in sorts:
        beside = [t.text for t in scene.texts if t.style == "label-strong"]
        assert (str(band.number) in beside) == bool(band.values[-1])


def test_what_changes_within_a_hair_is_drawn_as_one():
    days = [FIRST + timedelta(days=i) for i in range(3000)]
    band = Band(1, "told", tuple(range(3000)), "band-1")
    shape = surfaces(stack_view("t", "d", days, days[-1], [band]), "band-1")[0]
    assert len(shape.points) < 4 * 4 * 272
    axis = Axis(0, whole_ticks(2999)[-1], 236, 34)
    assert shape.points[len(shape.points) // 2 - 1] == pytest.approx((318, axis.at(2999)))


@given(st.dates(date(1990, 1, 1), date(2060, 1, 1)), st.integers(0, 20000))
def test_marks_of_days_are_the_calendars(first, length):
    last = first + timedelta(days=length)
    days = Days(first, last, 46, 318)
    ticks = days.ticks()
    assert len(ticks) <= 6
    for x, words in ticks:
        if len(ticks) == 2 and "," in words:
            assert words in (short_day(first), short_day(last))
        elif "," not in words:
            day = datetime.strptime(words, "%b %Y").date()
            assert first <= day <= last
            assert x == pytest.approx(46 + 272 * (day - first).days / (length + 1))


@settings(max_examples=40)
@given(flows())
def test_who_came_is_drawn_up_and_who_left_down(case):
    spans, came, left = case
    scene = flow_view("Flow", "Vessels", spans, Flow(came, left))
    check(scene)
    # The last is the key's.
    ups, downs = surfaces(scene, "band-1")[:-1], surfaces(scene, "band-7")[:-1]
    assert len(ups) == sum(map(bool, came))
    assert len(downs) == sum(map(bool, left))
    heights = [abs(shape.points[0][1] - shape.points[2][1]) for shape in (*ups, *downs)]
    counts = [count for count in came if count] + [count for count in left if count]
    units = {round(height / count, 6) for height, count in zip(heights, counts, strict=True)}
    assert len(units) <= 1
    # Each in the middle of its month on a calendar of days.
    begun, days = spans[0][0], (spans[-1][1] - spans[0][0]).days + 1
    middles = [
        46 + (344 - 46) * ((a - begun).days + ((b - a).days + 1) / 2) / days for a, b in spans
    ]
    assert [(each.points[0][0] + each.points[1][0]) / 2 for each in ups] == pytest.approx(
        [x for x, count in zip(middles, came, strict=True) if count]
    )


@settings(max_examples=40)
@given(curves(), st.floats(0, 60), st.booleans())
def test_a_curve_passes_through_its_points_and_ends_with_the_following(case, beyond, read):
    points, end = case
    figure = CurveFigure(
        points, end, lambda time: 4000, "converted", end / 2, most=end + beyond, read=read
    )
    scene = curve_view("Wait", "Share", figure)
    check(scene)
    across, up = Axis(0, whole_ticks(end + beyond, 5)[-1], 46, 344), Axis(0, 1, 216, 34)
    (line,) = [part for part in scene.of_style("curve") if hasattr(part, "points")]
    for point in points:
        assert (across.at(point.time), up.at(point.happened)) in line.points
    assert max(x for x, _ in line.points) == across.at(end)
    bands = surfaces(scene, "curve-band")[: -1 or None]
    assert len(bands) <= (1 if read else len(points))
    reach = [x for band in bands for x, _ in band.points]
    assert all(x <= across.at(end) for x in reach)
    if points and points[-1].low is not None and (read or points[-1].time < end):
        # The band goes on to where the curve ends, at its last width.
        assert max(reach) == across.at(end)
        at_end = {y for band in bands for x, y in band.points if x == across.at(end)}
        assert {up.at(points[-1].low), up.at(points[-1].high)} <= at_end
    if read and not points:
        assert not bands


def test_a_curve_that_was_read_has_no_jump():
    points = [CurvePoint(3, 0.0, None, None), CurvePoint(6, 0.4, 0.2, 0.6)]
    points.append(CurvePoint(9, 0.5, 0.3, 0.7))
    scene = curve_view("t", "d", CurveFigure(points, 9, str, "converted", read=True))
    (line,) = [part for part in scene.of_style("curve") if hasattr(part, "points")]
    xs = [x for x, _ in line.points]
    assert all(b > a for a, b in zip(xs, xs[1:-1], strict=False))
    band, _key = surfaces(scene, "curve-band")
    assert max(x for x, _ in band.points) == max(xs)


@settings(max_examples=40)
@given(ratio_rows)
def test_ratios_are_drawn_where_they_are(rows):
    scene = ratios_view("Catches", "Ratios", rows, SIDES, SIGNS)
    check(scene)
    values = [row.estimate.value for row in rows]
    # Ends far out make no room for themselves, and nothing has no place.
    room = [value for value in values if value not in (0, inf)] + [
        min(max(end, 0.01), 10) for row in rows for end in row.estimate[1:] if end is not None
    ]
    ticks = ratio_ticks(min(room, default=1), max(room, default=1))
    axis = Axis(ticks[0], ticks[-1], 26, 334, is_log=True)
    dots = [part.x for part in scene.of_style("dropper") if isinstance(part, Circle)]
    # The line both tows alike lie on is always named.
    assert "100%" in [text.text for text in scene.texts]
    # The last dot is the key's. What lies beyond the axis is an arrow at its edge, not a dot.
    inside = [value for value in values if ticks[0] <= value <= ticks[-1]]
    assert dots[:-1] == pytest.approx([axis.at(value) for value in inside])
    beyond = [
        end for row in rows for end in row.estimate if end and not ticks[0] <= end <= ticks[-1]
    ] + [end for row in rows for end in row.estimate if end == 0]
    arrows = surfaces(scene, "dropper")
    assert len(arrows) == len(beyond) + (1 if beyond else 0)
    tips = [max(arrow.points, key=lambda point: abs(point[0] - 180))[0] for arrow in arrows]
    assert sum(tip < 26 for tip in tips[: len(beyond)]) == sum(end < 1 for end in beyond)


def test_a_ratio_of_nothing_is_an_arrow_at_the_edge_with_its_reason():
    rows = [RatioRow("flatfish", Estimate(0.0), "no range: none without the sweep")]
    scene = ratios_view("t", "d", rows, SIDES, SIGNS)
    arrow, __ = surfaces(scene, "dropper")
    assert min(x for x, y in arrow.points) < 26
    assert "no range: none without the sweep" in [text.text for text in scene.texts]


def test_a_ratio_below_nothing_is_refused():
    with pytest.raises(ValueError, match="not below zero"):
        ratios_view("t", "d", [RatioRow("flatfish", Estimate(-0.1))], SIDES, SIGNS)


@settings(max_examples=40)
@given(bar_rows, st.booleans())
def test_a_bar_is_as_long_as_its_part(bars, alike):
    scene = bars_view("Parts", "Of wholes", bars, "Hatched: not told.", alike)
    check(scene)
    wholes, parts = surfaces(scene, "band-6"), surfaces(scene, "band-1")
    assert len(wholes) == len(bars)
    drawn = [bar for bar in bars if bar.part and bar.whole]
    assert len(parts) == len(drawn)
    outer = dict(zip(bars, wholes, strict=True))
    for bar, shape in zip(drawn, parts, strict=True):
        full = outer[bar].points[1][0] - outer[bar].points[0][0]
        assert shape.points[1][0] - shape.points[0][0] == pytest.approx(full * bar.part / bar.whole)


def test_nothing_to_draw_is_refused():
    with pytest.raises(ValueError, match="no month"):
        flow_view("t", "d", [], Flow([], []))
    with pytest.raises(ValueError, match="no day"):
        stack_view("t", "d", [], FIRST, [])


def test_every_graph_can_be_printed():
    spans = months(3)
    days = [first for first, _ in spans]
    scenes = [
        stack_view("t", "d", days, days[-1], [Band(1, "told", (1, 2, 3), "band-1", True)]),
        flow_view("t", "d", spans, Flow([1, 0, 2], [0, 1, 0])),
        curve_view("t", "d", CurveFigure([CurvePoint(1, 0.5, 0.3, 0.7)], 3, str, "converted", 1)),
        ratios_view("t", "d", [RatioRow("flatfish", Estimate(0.4, 0.3, 0.5))], SIDES, SIGNS),
        bars_view("t", "d", [Bar("Eastlight", 1, 2, "1 of 2")]),
    ]
    for scene in scenes:
        assert png.render(scene, 300).startswith(b"\x89PNG")


@settings(max_examples=40)
@given(bands(), st.lists(st.text("abcd ", min_size=1, max_size=150), max_size=3))
def test_a_picture_has_its_title_above_and_is_otherwise_the_same(case, notes):
    days, until, sorts = case
    scene = stack_view("Uptake", "Vessels", days, until, sorts)
    picture = titled(scene, "Vessels at each stage", notes)
    check(picture)
    words = " ".join(text.text for text in picture.texts)
    for each in ("Vessels at each stage", *notes):
        assert " ".join(each.split()) in " ".join(words.split())
    grown = picture.height - scene.height
    lowered = picture.parts[-len(scene.parts) :]
    for before, after in zip(scene.texts, [p for p in lowered if isinstance(p, Text)], strict=True):
        assert (after.x, after.y, after.text) == (before.x, before.y + grown, before.text)
    for before, after in zip(scene.parts, lowered, strict=True):
        assert before.style == after.style
        if isinstance(before, Polygon):
            assert after.points == tuple((x, y + grown) for x, y in before.points)
    assert png.render(picture, 300).startswith(b"\x89PNG")


@given(st.integers(0, 10**6), st.integers(2, 6))
def test_whole_ticks_hold_the_most_in_few_steps(most, steps):
    ticks = whole_ticks(most, steps)
    assert ticks[0] == 0
    assert ticks[-1] >= most
    assert len(ticks) <= steps + 1
    assert len({after - before for before, after in zip(ticks, ticks[1:], strict=False)}) == 1


@given(st.lists(st.floats(0, 100), min_size=1, max_size=7))
def test_spread_labels_lie_apart_in_their_order(wanted):
    found = spread(wanted, 10, 0, 100)
    placed = sorted(found)
    assert all(b - a >= 10 - 1e-9 for a, b in zip(placed, placed[1:], strict=False))
    assert min(found) >= 0
    assert max(found) <= 100 + 1e-9
    order = sorted(range(len(wanted)), key=lambda i: (wanted[i], i))
    assert order == sorted(range(len(found)), key=lambda i: found[i])


@given(st.integers(1, 500), st.floats(20, 100))
def test_labels_chosen_find_room(count, width):
    assert -(-count // every(count, 300, width)) * width <= max(300, width)


def test_axes_hold_values_and_refuse_what_has_no_extent():
    assert Axis(0, 10, 0, 100).at(5) == 50
    assert Axis(0, 10, 0, 100).at(-3) == 0
    assert Axis(0.1, 10, 0, 100, is_log=True).at(1) == pytest.approx(50)
    for low, high, is_log in ((1, 1, False), (0, 2, True)):
        with pytest.raises(ValueError, match="no axis"):
            Axis(low, high, 0, 100, is_log)


def test_a_word_longer_than_a_line_is_broken_too():
    bars = [Bar("Harborwithoutaspace" * 5, 1, 2, "1 of 2"), Bar("Kettle Harbor", 2, 2, "2 of 2")]
    check(bars_view("t", "d", bars))


def test_long_names_are_broken_into_lines():
    scene = bars_view("t", "d", [Bar("word " * 20, 1, 2, "1 of 2")])
    assert sum(isinstance(part, Text) for part in scene.parts) > 3
