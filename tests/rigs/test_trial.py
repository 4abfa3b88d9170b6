import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigs.drawing import svg
from rigs.drawing.trailing import trailing_view
from rigs.physics import tow
from rigs.plan import trial
from rigs.rules import rulebook
from rigs.words.units import INCH, KNOT, inches

BOOK = rulebook.load("no-sweep", "1")
choices = st.sampled_from(trial.choices(BOOK))
numbers = st.fixed_dictionaries(
    {dial.key: st.floats(dial.low, dial.high) for dial in trial.dials(BOOK)}
)


def test_what_can_be_set_keeps_the_rules():
    stock = BOOK.requirement("dropper_stock").limit
    assert all(choice.stock.size <= stock + 1e-9 for choice in trial.choices(BOOK))
    assert {choice.count for choice in trial.choices(BOOK)} == {1, 2}
    length = next(dial for dial in trial.dials(BOOK) if dial.key == "length")
    assert length.low * INCH == pytest.approx(BOOK.requirement("dropper_length").limit)
    for dial in trial.dials(BOOK):
        assert dial.low <= dial.start <= dial.high


@given(choices, numbers)
def test_every_setting_gives_the_heights_of_the_rule_module(choice, set_to):
    report = trial.report(BOOK, choice, **set_to)
    length, shine = set_to["length"] * INCH, set_to["shine"] * INCH
    speed = set_to["speed"] * KNOT
    assert report == tow.height_report(choice, length, speed, shine)


@given(choices, numbers)
def test_the_drawing_shows_both_heights_to_one_scale(choice, set_to):
    report = trial.report(BOOK, choice, **set_to)
    scene = trailing_view(report, trial.longest(BOOK))
    (rope,) = scene.of_style("corner")
    bed = min(y for _, y in scene.of_style("seabed")[0].points)
    thumb = scene.of_style("ghost")[0]
    assert (bed - rope.y) * report.rule.height == pytest.approx(
        (bed - thumb.y2) * report.model.height, abs=1e-6
    )
    assert rope.y >= thumb.y2 - 1e-6
    chains = [each for each in scene.of_style("dropper-chain") if hasattr(each, "points")]
    assert len(chains) == choice.count
    assert chains[0].points[0] == pytest.approx((rope.x, rope.y))
    words = [text.text for text in scene.texts]
    assert inches(report.model.height, 1) in words
    assert inches(report.rule.height, 1) in words
    assert bool(scene.of_style("shine")) == (set_to["shine"] * INCH > 0)


@given(choices, numbers)
def test_nothing_is_drawn_outside_the_paper(choice, set_to):
    scene = trailing_view(trial.report(BOOK, choice, **set_to), trial.longest(BOOK))
    for part in scene.parts:
        for x, y in getattr(part, "points", ()):
            assert 0 <= x <= scene.width
            assert 0 <= y <= scene.height
    assert svg.render(scene).startswith("<svg")
