import re
from math import ceil, floor

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigs.rules import rulebook
from rigs.rules.judge import judge
from rigs.words.gear import SIDES
from rigs.words.units import FOOT, INCH, parse_length
from training.exercises import kinds
from training.exercises.kinds.base import BadAnswer
from training.exercises.kinds.space_droppers import KEYS, answer_at

KIND = kinds.get("space-droppers")
EVERY = [(name, difficulty) for difficulty, names in KIND.rulebooks.items() for name in names]

tasks = st.builds(
    lambda seed, which: KIND.generate(seed, rulebook.load(which[0]), which[1]),
    st.integers(0, 2**31 - 1),
    st.sampled_from(EVERY),
)


def lost(marked):
    """Return the keys of the lines that lost their mark."""
    return {line.key for line in marked.lines if not line.right}


def without(task, *gone):
    return [at for at in task.fewest if not any(abs(at - each) < INCH / 2 for each in gone)]


@given(tasks)
def test_the_places_of_the_layout_get_full_marks(task):
    marked = KIND.grade(task, answer_at(task.fewest))
    assert marked.passed
    assert marked.marks == marked.out_of == 6 + task.has_sweep
    assert marked.remarks == ()


@given(tasks)
def test_every_place_of_the_drawn_rope_falls_on_a_whole_inch(task):
    rope = task.footrope
    for at in (*task.fewest, rope.port_end, rope.starboard_end):
        assert at / INCH == pytest.approx(round(at / INCH), abs=1e-6)


@given(tasks, st.sampled_from(SIDES))
def test_a_missing_corner_loses_just_that_corner(task, side):
    marked = KIND.grade(task, answer_at(without(task, task.footrope.corner(side))))
    assert lost(marked) == {f"dropper_at_corners:{side}", "fewest"}
    assert marked.marks == marked.out_of - 2
    assert not marked.passed


@given(tasks)
def test_a_missing_center_loses_just_the_center(task):
    marked = KIND.grade(task, answer_at(without(task, 0.0)))
    assert lost(marked) == {"dropper_at_centre", "fewest"}


@given(tasks, st.sampled_from(SIDES), st.data())
def test_a_missing_wing_dropper_loses_just_that_wing(task, side, data):
    sign = -1 if side == "port" else 1
    corner = abs(task.footrope.corner(side))
    on_wing = [at for at in task.fewest if at * sign > corner + INCH / 2]
    if not on_wing:
        return
    gone = data.draw(st.sampled_from(on_wing))
    marked = KIND.grade(task, answer_at(without(task, gone)))
    assert lost(marked) == {f"dropper_spacing:{side}", "fewest"}


@given(tasks, st.sampled_from(SIDES))
def test_a_corner_dropper_one_inch_off_is_not_at_the_corner(task, side):
    corner = task.footrope.corner(side)
    toward_center = INCH if corner < 0 else -INCH
    placed = [*without(task, corner), corner + toward_center]
    marked = KIND.grade(task, answer_at(placed))
    assert lost(marked) - {"fewest"} == {f"dropper_at_corners:{side}"}


def _length_in(sentence):
    """Return the first length in metres that ``sentence`` tells, nothing if it tells none."""
    found = re.search(r"\d[\d /]*(?: ft(?: [\d /]+ in)?| in)\b", sentence)
    return parse_length(found[0]) if found else 0.0


@given(tasks, st.lists(st.integers(-1200, 1200), min_size=1, max_size=30))
def test_marks_agree_with_the_rule_module_on_the_whole_rope(task, inches):
    rope = task.footrope
    placed = [at * INCH for at in inches if rope.port_end <= at * INCH <= rope.starboard_end]
    if not placed:
        return
    marked = KIND.grade(task, answer_at(placed))
    failed = judge(task.rig(placed), task.rulebook).failed_keys & set(KEYS)
    assert {key.partition(":")[0] for key in lost(marked)} - {"fewest"} == failed
    assert marked.passed == (not failed and len(placed) <= len(task.fewest))


@given(tasks)
def test_one_dropper_to_spare_breaks_no_rule_and_is_no_pass(task):
    extra = task.footrope.starboard_corner - 2 * FOOT
    marked = KIND.grade(task, answer_at([*task.fewest, extra]))
    assert lost(marked) == {"fewest"}
    assert not marked.passed
    (line,) = [line for line in marked.lines if line.key == "fewest"]
    assert line.margin_text == "1 too many"
    (remark,) = marked.remarks
    assert "No rule forbids the extra one" in remark
    assert " lb in sea water" in remark


@given(tasks)
def test_a_dropper_every_foot_meets_every_rule_at_most_and_never_passes(task):
    rope = task.footrope
    feet = range(ceil(rope.port_end / FOOT), floor(rope.starboard_end / FOOT) + 1)
    marked = KIND.grade(task, answer_at([at * FOOT for at in feet]))
    assert "fewest" in lost(marked)
    assert not marked.passed


@given(tasks, st.sampled_from(SIDES))
def test_the_fewest_may_hang_elsewhere_if_every_rule_is_met(task, side):
    """A wing of one dropper and less than a step left: it may hang nearer to the corner."""
    corner = task.footrope.corner(side)
    sign = -1 if side == "port" else 1
    interval = task.rulebook.requirement("dropper_spacing").limit
    (*_, last) = sorted(task.fewest, key=lambda at: at * sign)
    if (last - corner) * sign < INCH or abs(task.footrope.end(side) - last) > interval - 2 * INCH:
        return
    marked = KIND.grade(task, answer_at([*without(task, last), last - sign * INCH]))
    assert marked.passed


@given(tasks)
def test_two_droppers_at_one_place_are_one_too_many(task):
    answer = answer_at(task.fewest)
    answer["starboard"] += "\n" + answer["starboard"].splitlines()[0]
    marked = KIND.grade(task, answer)
    assert not marked.passed
    assert any("hang together" in remark for remark in marked.remarks)


def test_where_there_is_a_sweep_a_dropper_has_to_hang_straight_down_to_it():
    book = rulebook.load("chain-sweep", "1")
    task = KIND.generate(5, book, 3)
    answer = answer_at(task.fewest)
    assert KIND.grade(task, answer).passed
    leaning = f"{(-task.fewest[0] + INCH) / INCH:.4f} in"
    marked = KIND.grade(task, answer | {"on_sweep": leaning})
    assert lost(marked) == {"sweep_attachment", "fewest"}
    with pytest.raises(BadAnswer):
        KIND.grade(task, answer | {"on_sweep": ""})


def test_the_harder_the_rope_the_less_its_wings_miss_whole_intervals():
    def misses(level):
        for seed in range(60):
            rope = KIND.generate(seed, rulebook.load("no-sweep", "1"), level).footrope
            step = rulebook.load("no-sweep", "1").requirement("dropper_spacing").limit
            for side in SIDES:
                off = rope.wing(side) % step
                off = min(off, step - off)
                if off > INCH / 2:
                    yield off

    assert min(misses(1)) > max(misses(2))
    assert min(misses(2)) > max(misses(3))


@pytest.mark.parametrize(("name", "difficulty"), EVERY)
def test_counting_from_the_center_never_passes(name, difficulty):
    book = rulebook.load(name)
    step = book.requirement("dropper_spacing").limit
    for seed in range(100):
        task = KIND.generate(seed, book, difficulty)
        rope = task.footrope
        counts = range(ceil(rope.port_end / step), floor(rope.starboard_end / step) + 1)
        assert not KIND.grade(task, answer_at([at * step for at in counts])).passed


@given(tasks)
def test_both_answers_are_drawn(task):
    own = [*without(task, task.footrope.port_corner), task.footrope.port_end]
    marked = KIND.grade(task, answer_at(own))
    for picture in marked.pictures:
        assert len(picture.scene.of_style("ghost")) >= len(own)
        assert len(picture.scene.of_style("dropper")) >= len(task.fewest)
        assert picture.svg.startswith("<svg")


def test_a_place_past_the_wing_end_is_refused_beside_its_field():
    task = KIND.generate(3, rulebook.load("no-sweep", "1"), 1)
    form = KIND.form(task)({"port": "400 ft", "starboard": "6 ft"})
    assert not form.is_valid()
    assert "past the port wing end" in form.errors["port"][0]
    with pytest.raises(BadAnswer):
        KIND.grade(task, {"port": "400 ft", "starboard": "6 ft"})


@pytest.mark.parametrize("typed", ["8 fet", "about 6", "-4 ft", "6 ft, 3 in"])
def test_what_cannot_be_read_is_refused_beside_its_field(typed):
    task = KIND.generate(3, rulebook.load("no-sweep", "1"), 1)
    form = KIND.form(task)({"port": "6 ft", "starboard": typed})
    assert list(form.errors) == ["starboard"]


def _length_in(sentence):
    """Return the first length in metres that ``sentence`` tells, nothing if it tells none."""
    found = re.search(r"\d[\d /]*(?: ft(?: [\d /]+ in)?| in)\b", sentence)
    return parse_length(found[0]) if found else 0.0


@given(tasks, st.lists(st.integers(-1200, 1200), min_size=1, max_size=12))
def test_each_corner_tells_how_far_its_nearest_dropper_is(task, inches):
    rope = task.footrope
    placed = [at * INCH for at in inches if rope.port_end <= at * INCH <= rope.starboard_end]
    if not placed:
        return
    lines = {line.key: line for line in KIND.grade(task, answer_at(placed)).lines}
    for side in SIDES:
        nearest = min(abs(at - rope.corner(side)) for at in placed)
        line = lines[f"dropper_at_corners:{side}"]
        assert _length_in(line.sentence) == pytest.approx(nearest, abs=1e-6)
        assert line.places == (() if line.right else (f"{side} corner",))


@given(tasks)
def test_each_wing_tells_its_own_widest_gap(task):
    lines = {line.key: line for line in KIND.grade(task, answer_at([0.0])).lines}
    for side in SIDES:
        wing = task.footrope.wing(side)
        line = lines[f"dropper_spacing:{side}"]
        assert _length_in(line.sentence) == pytest.approx(wing, abs=1e-6)
        assert all(place.startswith(side) for place in line.places)
