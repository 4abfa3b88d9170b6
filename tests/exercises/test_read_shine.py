import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigs import rulebook, tow, tuning
from rigs.chain import stock_for
from rigs.judge import judge
from rigs.practice import FOOTROPE_HEIGHT
from rigs.tuning import proposals
from rigs.tuning.way import EVEN_UP, HOLD, LEAVE, LIFT, low_side, way
from rigs.units import INCH, KNOT, inches
from training.exercises import kinds
from training.exercises.kinds.base import EASIEST, HARDEST
from training.exercises.kinds.read_shine import CHANGES, READ_AT

from .conftest import right_answer

KIND = kinds.get("read-shine")
EVERY = [(name, difficulty) for difficulty, names in KIND.rulebooks.items() for name in names]

tasks = st.builds(
    lambda seed, which: KIND.generate(seed, rulebook.load(which[0]), which[1]),
    st.integers(0, 2**31 - 1),
    st.sampled_from(EVERY),
)
few = settings(max_examples=25)

# Tasks are made anew from their seeds, so these may never change: length and shine at the
# centre in inches, speed in knots, chain size in sixteenths of an inch.
PINNED = [
    (1, "no-sweep", 1, (51, 5, 2.4, 5)),
    (2026, "grate", 2, (53, 39, 2.0, 5)),
    (2**31 - 1, "no-sweep", 3, (42, 17, 2.4, 6)),
]


def task_for(wanted, difficulty=2):
    """Return the first task of this difficulty that asks for the way ``wanted``."""
    made = (KIND.generate(seed, rulebook.load("no-sweep"), difficulty) for seed in range(200))
    return next(task for task in made if way(task.heights, FOOTROPE_HEIGHT) == wanted)


@pytest.mark.parametrize(("seed", "name", "difficulty", "expected"), PINNED)
def test_tasks_stay_as_they_were(seed, name, difficulty, expected):
    task = KIND.generate(seed, rulebook.load(name), difficulty)
    length, shine, speed, size = expected
    assert task.dropper.length / INCH == pytest.approx(length)
    assert task.shine / INCH == pytest.approx(shine)
    assert task.tow.speed / KNOT == pytest.approx(speed)
    assert task.dropper.diameter / INCH * 16 == pytest.approx(size)


@few
@given(tasks)
def test_the_net_is_legal_and_shine_is_told_where_it_is_to_be(task):
    assert judge(task.rig, task.rulebook).failed == ()
    assert tuple(task.tow.shine) == READ_AT[task.difficulty]
    assert all(0 < shine < task.dropper.length for shine in task.tow.shine.values())
    assert len({(each.length, each.diameter, each.count) for each in task.rig.droppers}) == 1


@few
@given(tasks)
def test_what_to_do_is_what_the_tuning_of_that_net_would_say(task):
    tuned = tuning.tune(task.rig, [task.tow], task.rulebook)
    wanted = way(task.heights, FOOTROPE_HEIGHT)
    assert (wanted == EVEN_UP) == tuned.uneven
    kinds_advised = {advice.kind for advice in tuned.advice}
    if wanted == EVEN_UP:
        assert tuned.advice[0].kind == proposals.MEASURE
        assert low_side(task.heights) in tuned.notes[-1] + tuned.notes[0]
    else:
        status = {LIFT: tuning.TOO_LOW, LEAVE: tuning.IN_WINDOW, HOLD: tuning.TOO_HIGH}
        assert tuned.status == status[wanted]
        lifting = {proposals.ADD_FLOATS, proposals.LENGTHEN_HEADROPE}
        holding = {proposals.ADD_DROPPERS, proposals.LENGTHEN_FOOTROPE}
        fit = {LIFT: lifting, LEAVE: set(), HOLD: holding}
        assert kinds_advised <= fit[wanted]


@few
@given(tasks)
def test_the_rule_modules_own_answer_gets_full_marks(task):
    marked = KIND.grade(task, right_answer(task))
    assert marked.marks == marked.out_of == 5
    assert marked.passed
    assert marked.remarks == ()


@few
@given(tasks, st.floats(0, 60))
def test_a_height_gets_full_marks_just_within_the_models_spread(task, said):
    hung = task.dropper
    report = tow.height_report(
        stock_for(hung.diameter), hung.count, hung.length, task.tow.speed, task.shine
    )
    low, high = report.model.low / INCH, report.model.high / INCH
    marked = KIND.grade(task, {**right_answer(task), "height": f"{said:.3f}"})
    line = next(each for each in marked.lines if each.key == "shine_height")
    beyond = max(low - 0.5 - said, said - high - 0.5)
    half = (high - low) / 2
    if beyond < -0.01:
        assert line.marks == 2
    elif beyond > 0.01 and abs(beyond - half) > 0.01:
        assert line.marks == (1 if beyond < half else 0)
    assert line.right == (line.marks == 2)


@pytest.mark.parametrize("wanted", CHANGES)
def test_every_way_is_asked_for_and_a_wrong_one_costs_its_marks(wanted):
    task = task_for(wanted)
    for said in CHANGES:
        marked = KIND.grade(task, {**right_answer(task), "change": said})
        line = marked.lines[-1]
        assert (line.marks == 2) == line.right == (said == wanted)
        assert CHANGES[wanted][1:] in line.measured_text
    if wanted in (LIFT, HOLD):
        opposite = HOLD if wanted == LIFT else LIFT
        marked = KIND.grade(task, {**right_answer(task), "change": opposite})
        assert (marked.marks, marked.passed) == (3, False)


def test_the_two_heights_are_told_apart():
    task = task_for(LEAVE)
    rule, model = task.report.estimates
    swapped = {
        "rule": inches(model.height),
        "height": inches(rule.height),
        "change": LEAVE,
    }
    marked = KIND.grade(task, swapped)
    assert marked.lines[0].marks == 0
    assert marked.remarks  # a height under tow above the rule of thumb cannot be
    told = KIND.grade(task, right_answer(task)).lines[1].measured_text
    assert "chain in the current" in told
    assert "The rule of thumb says" in told
    assert inches(model.low, 1) in told
    assert inches(model.high, 1) in told


@few
@given(tasks)
def test_the_page_does_not_give_the_answer_away(task):
    shown = KIND.shown(task)
    drawn = " ".join(picture.svg for picture in shown["pictures"])
    assert "length less shine" not in drawn.lower()
    assert bool(shown["reach"]) == (task.difficulty < HARDEST)


def test_the_marked_answer_draws_both_heights():
    task = task_for(EVEN_UP)
    pictures = KIND.grade(task, right_answer(task)).pictures
    assert "length less shine" in pictures[0].svg
    assert "length minus shine" in pictures[1].svg


@pytest.mark.parametrize(
    ("typed", "field"),
    [
        ({"rule": "about two foot"}, "rule"),
        ({"height": "-3 in"}, "height"),
        ({"height": "2000 in"}, "height"),
        ({"change": "hoist"}, "change"),
        ({"change": ""}, "change"),
    ],
)
def test_what_cannot_be_read_is_refused_beside_its_field(typed, field):
    task = KIND.generate(3, rulebook.load("no-sweep"), EASIEST)
    form = KIND.form(task)({**right_answer(task), **typed})
    assert list(form.errors) == [field]
    assert form.raw()[field] == typed[field]
