"""The graphs of figures: each shape where its figure says, all lettering clear and readable."""

from datetime import date
from math import inf

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigs.drawing import png, svg
from rigs.drawing.bars import Bar, bars_view
from rigs.drawing.curve import CurveFigure, CurvePoint, curve_view
from rigs.drawing.flow import Flow, flow_view
from rigs.drawing.graph import Axis, every, ratio_ticks, spread, whole_ticks
from rigs.drawing.lettering import text_box
from rigs.drawing.ratios import Estimate, RatioRow, ratios_view
from rigs.drawing.scene import Circle, Polygon, Text
from rigs.drawing.stack import Band, stack_view
from tests.rigs.drawn import overlapping

NAMES = ("fishing without a sweep", "rig checked", "net planned", "in training", "gone back")
SIDES = ("less without the sweep", "more without the sweep")
SIGNS = ("all catches together", "goes on beyond the edge")


def month_names(count):
    return [f"{date(2024 + i // 12, i % 12 + 1, 1):%b %Y}" for i in range(count)]


@st.composite
def bands(draw):
    months = draw(st.integers(1, 70))
    counts = st.lists(st.integers(0, 3000), min_size=months, max_size=months)
    return months, [
        Band(name, tuple(draw(counts)), f"band-{i}", i == 5) for i, name in enumerate(NAMES, 1)
    ]


@st.composite
def flows(draw):
    months = draw(st.integers(1, 70))
    counts = st.lists(st.integers(0, 400), min_size=months, max_size=months)
    return months, draw(counts), draw(counts)


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
def test_a_stack_is_as_high_as_its_counts(case):
    months, sorts = case
    scene = stack_view("Uptake", "Vessels", month_names(months), sorts)
    check(scene)
    total = max(sum(column) for column in zip(*(band.values for band in sorts), strict=True))
    axis = Axis(0, whole_ticks(max(total, 1))[-1], 236, 34)
    below = [0] * months
    for band in sorts:
        above = [low + value for low, value in zip(below, band.values, strict=True)]
        shapes = surfaces(scene, band.style)
        # The last is the key's.
        assert len(shapes) == 1 + any(band.values)
        if any(band.values):
            tops = [y for _, y in shapes[0].points[: 2 * months : 2]]
            assert tops == pytest.approx([axis.at(high) for high in above])
        below = above


@settings(max_examples=40)
@given(bands())
def test_a_stack_names_each_band_with_its_latest_count(case):
    months, sorts = case
    scene = stack_view("Uptake", "Vessels", month_names(months), sorts)
    words = [text.text for text in scene.texts]
    for number, band in enumerate(sorts, 1):
        assert f"{number} {band.name}: {band.values[-1]}" in words
        assert (str(number) in [t.text for t in scene.texts if t.style == "label-strong"]) == bool(
            band.values[-1]
        )


@settings(max_examples=40)
@given(flows())
def test_who_came_is_drawn_up_and_who_left_down(case):
    months, came, left = case
    scene = flow_view("Flow", "Vessels", month_names(months), Flow(came, left))
    check(scene)
    # The last is the key's.
    ups, downs = surfaces(scene, "band-1")[:-1], surfaces(scene, "band-7")[:-1]
    assert len(ups) == sum(map(bool, came))
    assert len(downs) == sum(map(bool, left))
    heights = [abs(shape.points[0][1] - shape.points[2][1]) for shape in (*ups, *downs)]
    counts = [count for count in came if count] + [count for count in left if count]
    units = {round(height / count, 6) for height, count in zip(heights, counts, strict=True)}
    assert len(units) <= 1


@settings(max_examples=40)
@given(curves())
def test_a_curve_passes_through_its_points(case):
    points, most = case
    scene = curve_view(
        "Wait",
        "Share",
        CurveFigure(points, most, lambda time: 4000, "converted", most / 2),
    )
    check(scene)
    across, up = Axis(0, whole_ticks(most, 5)[-1], 46, 344), Axis(0, 1, 216, 34)
    (line,) = [part for part in scene.of_style("curve") if hasattr(part, "points")]
    for point in points:
        assert (across.at(point.time), up.at(point.happened)) in line.points
    assert len(surfaces(scene, "curve-band")) <= len(points) + 1


@settings(max_examples=40)
@given(ratio_rows)
def test_ratios_are_drawn_where_they_are(rows):
    scene = ratios_view("Catches", "Ratios", rows, SIDES, SIGNS)
    check(scene)
    ends = [end for row in rows for end in row.estimate if end not in (None, 0, inf)]
    ticks = ratio_ticks(min(ends, default=1), max(ends, default=1))
    axis = Axis(ticks[0], ticks[-1], 26, 334, is_log=True)
    dots = [part.x for part in scene.of_style("dropper") if isinstance(part, Circle)]
    values = [row.estimate.value for row in rows]
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


@pytest.mark.parametrize("months", [0])
def test_nothing_to_draw_is_refused(months):
    with pytest.raises(ValueError, match="no month"):
        stack_view("t", "d", [], [])
    with pytest.raises(ValueError, match="no month"):
        flow_view("t", "d", [], Flow([], []))


def test_every_graph_can_be_printed():
    months = month_names(3)
    scenes = [
        stack_view("t", "d", months, [Band("told", (1, 2, 3), "band-1", True)]),
        flow_view("t", "d", months, Flow([1, 0, 2], [0, 1, 0])),
        curve_view("t", "d", CurveFigure([CurvePoint(1, 0.5, 0.3, 0.7)], 3, str, "converted", 1)),
        ratios_view("t", "d", [RatioRow("flatfish", Estimate(0.4, 0.3, 0.5))], SIDES, SIGNS),
        bars_view("t", "d", [Bar("Eastlight", 1, 2, "1 of 2")]),
    ]
    for scene in scenes:
        assert png.render(scene, 300).startswith(b"\x89PNG")


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


def test_long_names_are_broken_into_lines():
    scene = bars_view("t", "d", [Bar("word " * 20, 1, 2, "1 of 2")])
    assert sum(isinstance(part, Text) for part in scene.parts) > 3
