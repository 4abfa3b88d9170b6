import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigs import rulebook
from rigs.gear import SIDES
from rigs.judge import judge
from rigs.units import FOOT, INCH, parse_length
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
    assert marked.marks == marked.out_of == 5
    assert marked.remarks == ()


@given(tasks)
def test_every_place_of_the_drawn_rope_falls_on_a_whole_inch(task):
    rope = task.footrope
    for at in (*task.fewest, rope.port_end, rope.starboard_end):
        assert at / INCH == pytest.approx(round(at / INCH), abs=1e-6)


@given(tasks, st.sampled_from(SIDES))
def test_a_missing_corner_loses_just_that_corner(task, side):
    marked = KIND.grade(task, answer_at(without(task, task.footrope.corner(side))))
    assert lost(marked) == {f"dropper_at_corners:{side}"}
    assert marked.marks == 4
    assert not marked.passed


@given(tasks)
def test_a_missing_centre_loses_just_the_centre(task):
    assert lost(KIND.grade(task, answer_at(without(task, 0.0)))) == {"dropper_at_centre"}


@given(tasks, st.sampled_from(SIDES), st.data())
def test_a_missing_wing_dropper_loses_just_that_wing(task, side, data):
    sign = -1 if side == "port" else 1
    corner = abs(task.footrope.corner(side))
    on_wing = [at for at in task.fewest if at * sign > corner + INCH / 2]
    gone = data.draw(st.sampled_from(on_wing))
    assert lost(KIND.grade(task, answer_at(without(task, gone)))) == {f"dropper_spacing:{side}"}


@given(tasks, st.sampled_from(SIDES))
def test_a_corner_dropper_one_inch_off_is_not_at_the_corner(task, side):
    corner = task.footrope.corner(side)
    toward_centre = INCH if corner < 0 else -INCH
    placed = [*without(task, corner), corner + toward_centre]
    assert lost(KIND.grade(task, answer_at(placed))) == {f"dropper_at_corners:{side}"}


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
    assert {key.partition(":")[0] for key in lost(marked)} == failed
    assert marked.passed == (not failed)


@given(tasks)
def test_droppers_to_spare_are_legal_but_remarked_upon(task):
    extra = task.footrope.starboard_corner - 2 * FOOT
    marked = KIND.grade(task, answer_at([*task.fewest, extra]))
    assert marked.passed
    assert marked.marks == marked.out_of
    (remark,) = marked.remarks
    assert "extra one is allowed" in remark
    assert " lb in sea water" in remark


@given(tasks)
def test_two_droppers_at_one_place_are_remarked_upon(task):
    answer = answer_at(task.fewest)
    answer["starboard"] += "\n" + answer["starboard"].splitlines()[0]
    marked = KIND.grade(task, answer)
    assert marked.passed
    assert any("hang together" in remark for remark in marked.remarks)


@given(tasks)
def test_both_answers_are_drawn(task):
    own = [*without(task, task.footrope.port_corner), task.footrope.port_end]
    marked = KIND.grade(task, answer_at(own))
    for picture in marked.pictures:
        assert len(picture.scene.of_style("ghost")) >= len(own)
        assert len(picture.scene.of_style("dropper")) >= len(task.fewest)
        assert picture.svg.startswith("<svg")


def test_a_place_past_the_wing_end_is_refused_beside_its_field():
    task = KIND.generate(3, rulebook.load("no-sweep"), 1)
    form = KIND.form(task)({"port": "400 ft", "starboard": "6 ft"})
    assert not form.is_valid()
    assert "past the port wing end" in form.errors["port"][0]
    with pytest.raises(BadAnswer):
        KIND.grade(task, {"port": "400 ft", "starboard": "6 ft"})


@pytest.mark.parametrize("typed", ["8 fet", "about 6", "-4 ft", "6 ft, 3 in"])
def test_what_cannot_be_read_is_refused_beside_its_field(typed):
    task = KIND.generate(3, rulebook.load("no-sweep"), 1)
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
