"""The charts of the shine log: everything on the paper, and at the height it tells."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigs.drawing import chart, png, svg
from rigs.drawing.heights import heights_view
from rigs.drawing.lettering import text_box
from rigs.drawing.scene import Circle, Polygon
from rigs.drawing.trend import trend_view
from rigs.physics.practice import FOOTROPE_HEIGHT
from rigs.rules import rulebook
from rigs.tuning import PLACES, Catch, Tow, heights
from rigs.words.units import FOOT, INCH
from tests.rigs.rig_factory import make_rig

RIG = make_rig(rulebook.load("no-sweep", "1"))
shines = st.dictionaries(st.sampled_from(PLACES), st.floats(0, 42 * INCH), min_size=1)
catches = st.none() | st.builds(Catch, st.floats(0, 900), st.floats(0, 900), st.floats(0, 90))
tows = st.builds(Tow, st.floats(0.3, 3), shines, catches)


def on_the_paper(scene):
    boxes = [text_box(text) for text in scene.texts]
    return all(
        box.left >= 0 and box.right <= scene.width and box.top >= 0 and box.bottom <= scene.height
        for box in boxes
    )


def scale_of(read, top=34, bottom=240):
    values = [FOOTROPE_HEIGHT.high]
    values += [value for each in read.places for value in (each.high, each.rule)]
    return chart.Scale(max(values), top, bottom)


@settings(max_examples=60, deadline=None)
@given(tows)
def test_heights_are_drawn_where_they_are(tow):
    read = heights(tow, RIG)
    scene = heights_view(read, FOOTROPE_HEIGHT)
    assert on_the_paper(scene)
    dots = [part for part in scene.of_style("dropper") if isinstance(part, Circle)]
    scale = scale_of(read)
    # The last dot is the key's.
    assert [dot.y for dot in dots[:-1]] == pytest.approx(
        [scale.y(each.model) for each in read.places]
    )
    for each in read.places:
        assert each.name in scene.description


@settings(max_examples=30, deadline=None)
@given(st.lists(tows, min_size=1, max_size=70))
def test_a_trend_has_one_dot_a_tow_and_one_bar_a_catch(logged):
    read = [heights(tow, RIG) for tow in logged]
    scene = trend_view(read, FOOTROPE_HEIGHT, 0.05)
    assert on_the_paper(scene)
    assert len(scene.of_style("dropper")) == len(read) + 1
    bars = [part for part in scene.of_style("fish") if isinstance(part, Polygon)]
    assert len(bars) == sum(
        each.tow.catch is not None and each.tow.catch.share is not None for each in read
    )
    assert svg.render(scene).startswith("<svg")


def test_both_can_be_printed():
    read = heights(Tow(1.4, dict.fromkeys(PLACES, 10 * INCH), Catch(90, 5)), RIG)
    for scene in (
        heights_view(read, FOOTROPE_HEIGHT),
        trend_view([read] * 3, FOOTROPE_HEIGHT, 0.05),
    ):
        assert png.render(scene, 300).startswith(b"\x89PNG")


@pytest.mark.parametrize("most", [0.1, FOOT, 3.5 * FOOT, 20, 300])
def test_a_scale_holds_what_it_is_made_for(most):
    scale = chart.Scale(most, 10, 100)
    assert scale.most >= most - 1e-9
    assert scale.y(0) == 100
    assert scale.y(scale.most) == 10
    assert scale.y(most * 99) == 10
