import random
import statistics
from collections import Counter

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigs import tuning
from rigs.physics import tow
from rigs.physics.chain import stock_for
from rigs.physics.practice import FOOTROPE_HEIGHT
from rigs.rules import rulebook
from rigs.rules.judge import judge
from rigs.tuning import proposals
from rigs.tuning.way import EVEN_UP, HOLD, LEAVE, LIFT, way
from rigs.words.units import INCH, KNOT, inches, parse_length
from tests.exercises.conftest import right_answer
from training.exercises import kinds
from training.exercises.kinds.base import EASIEST
from training.exercises.kinds.read_shine import CHANGES, READ_AT

KIND = kinds.get("read-shine")
EVERY = [(name, difficulty) for difficulty, names in KIND.rulebooks.items() for name in names]

tasks = st.builds(
    lambda seed, which: KIND.generate(seed, rulebook.load(which[0]), which[1]),
    st.integers(0, 2**31 - 1),
    st.sampled_from(EVERY),
)
few = settings(max_examples=25, deadline=None)


def task_for(wanted, difficulty=2):
    """Return the first task of this difficulty that asks for the way ``wanted``."""
    made = (KIND.generate(seed, rulebook.load("no-sweep", "1"), difficulty) for seed in range(200))
    return next(task for task in made if way(task.heights, FOOTROPE_HEIGHT) == wanted)


@pytest.fixture(scope="module")
def many():
    """240 tasks: every rule set and level, seeds in a row and far off."""
    seeds = [*range(30), *(random.Random(7).randrange(2**31) for _ in range(18))]
    return [
        KIND.generate(seed, rulebook.load(name), difficulty)
        for name, difficulty in EVERY
        for seed in seeds
    ]


def number(text):
    """Return the inches that the page prints as ``text``."""
    return parse_length(text) / INCH


def by_the_page(shown, choose=min):
    """
    Return the answer of somebody who follows the page to the letter, and knows no more.

    Only what is printed is used. ``choose`` picks between two rows that are equally near.
    """
    facts = dict(shown["facts"])
    shine = {place: number(size) for place, size in shown["shine"]}
    free = number(facts["Length"]) - shine["center"]
    speed = facts["Speed through the water"].split()[0]
    column = shown["card_speeds"].index(speed)
    rows = [(float(row), shares[column]) for row, shares in shown["card_rows"]]
    nearest = min(abs(row - shine["center"]) for row, _ in rows)
    _, share = choose(each for each in rows if abs(each[0] - shine["center"]) == nearest)
    height = round(free * float(share))
    apart = max(
        abs(size - shine[place.replace("port", "starboard")])
        for place, size in shine.items()
        if place.startswith("port")
    )
    low, high = (number(end) for end in shown["window_ends"])
    if apart > number(shown["even"]):
        change = EVEN_UP
    else:
        change = LIFT if height < low else HOLD if height > high else LEAVE
    return {"rule": f"{free:g}", "height": f"{height}", "change": change}


@pytest.mark.parametrize("choose", [min, max])
def test_whoever_follows_the_page_earns_all_points(many, choose):
    assert len(many) >= 240
    for task in many:
        answer = by_the_page(KIND.shown(task), choose)
        marked = KIND.grade(task, answer)
        assert (marked.marks, marked.passed) == (5, True), (task.seed, task.difficulty, answer)


def test_length_minus_shine_never_passes_for_the_height_under_tow(many):
    for task in many:
        right = right_answer(task)
        for less in (0, 1):
            said = inches(task.report.rule.height - less * INCH)
            marked = KIND.grade(task, {**right, "height": said})
            assert not marked.passed
            assert marked.marks == 3


def test_no_one_height_does_for_most_tasks(many):
    """Even with all else right: the best guess of all passes less than two tasks in five."""
    for guess in range(61):
        passed = sum(task.is_right(guess * INCH) for task in many)
        assert passed < 0.4 * len(many), guess
    # What a 42 in dropper of 3/8 in chain reaches at 1.5 m/s, said of every tow.
    same = [KIND.grade(t, {"rule": "29", "height": "29", "change": LEAVE}) for t in many]
    assert sum(each.passed for each in same) == 0


def test_the_higher_the_level_the_nearer_a_height_lies_to_where_the_answer_turns(many):
    """On all sides of it: too low, about right, too high; and sides that differ by little."""
    for wanted in (LIFT, LEAVE, HOLD):
        off = {level: [] for level in KIND.rulebooks}
        for task in many:
            if way(task.heights, FOOTROPE_HEIGHT) == wanted:
                height = task.report.model.height
                ends = (FOOTROPE_HEIGHT.low, FOOTROPE_HEIGHT.high)
                off[task.difficulty].append(min(abs(height - end) for end in ends))
        assert statistics.mean(off[1]) > statistics.mean(off[3])
        assert max(off[3]) < 6 * INCH
    apart = {2: [], 3: []}
    for task in many:
        if way(task.heights, FOOTROPE_HEIGHT) == EVEN_UP:
            shine = task.tow.shine
            apart[task.difficulty].append(abs(shine["port corner"] - shine["starboard corner"]))
    assert statistics.mean(apart[2]) > 1.5 * statistics.mean(apart[3])


@pytest.mark.parametrize("change", CHANGES)
def test_whoever_always_says_the_same_hardly_ever_passes(many, change):
    """And who works out length minus shine, no more often than a guessed change is right."""
    wanted = [task for task in many if way(task.heights, FOOTROPE_HEIGHT) == change]
    for guess in range(4, 40):
        right = [task for task in wanted if task.is_right(guess * INCH)]
        assert len(right) < 0.4 * len(many)
        # Length minus shine is right within half an inch, and here a whole number of inches.
        free = Counter(round(task.report.rule.height / INCH) for task in right)
        assert max(free.values(), default=0) < 0.12 * len(many)


def test_all_of_a_spread_asks_for_the_same_change(many):
    for task in many:
        wanted = way(task.heights, FOOTROPE_HEIGHT)
        if wanted == EVEN_UP:
            continue
        model = task.report.model
        for height in (model.low, model.height, model.high):
            side = LIFT if height < FOOTROPE_HEIGHT.low else HOLD
            assert wanted == (LEAVE if FOOTROPE_HEIGHT.holds(height) else side)


def test_the_spread_is_that_of_what_the_page_tells(many):
    """Its own speed and bottom, the drag on the lying part from none to all."""
    for task in many[::8]:
        hung = task.dropper
        stock = stock_for(hung.diameter)
        speed, bottom, shine = task.tow.speed, task.tow.bottom, task.shine
        ends = [
            tow.hang(line, hung.length, speed + off, shine, friction).height
            for off, friction, line in (
                (0.2 * KNOT, bottom.most, tow.line(stock, sheltered=False)),
                (-0.2 * KNOT, bottom.least, tow.line(stock)),
            )
        ]
        assert (task.report.model.low, task.report.model.high) == pytest.approx(tuple(ends))
        assert dict(KIND.shown(task)["facts"])["Bottom"] == bottom.name
        told = KIND.grade(task, right_answer(task)).lines[1].measured_text
        assert inches(ends[0] - INCH / 2, 2) in told
        assert inches(ends[1] + INCH / 2, 2) in told


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
        assert task.heights.low_side in tuned.notes[0]
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
def test_a_height_gets_its_points_just_within_the_tasks_spread(task, said):
    model = task.report.model
    marked = KIND.grade(task, {**right_answer(task), "height": f"{said:.3f}"})
    line = next(each for each in marked.lines if each.key == "shine_height")
    beyond = max(model.low / INCH - 0.5 - said, said - model.high / INCH - 0.5)
    if abs(beyond) > 0.01:
        assert line.marks == (2 if beyond < 0 else 0)
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
    assert inches(model.height, 1) in told
    assert "Length minus shine" in told


@few
@given(tasks)
def test_the_page_does_not_give_the_answer_away(task):
    shown = KIND.shown(task)
    drawn = " ".join(picture.svg for picture in shown["pictures"])
    assert "minus shine" not in drawn.lower()
    printed = " ".join(text for _, text in (*shown["facts"], *shown["shine"]))
    assert inches(task.report.rule.height) not in printed.split(", ")


def test_the_marked_answer_draws_both_heights():
    task = task_for(EVEN_UP)
    pictures = KIND.grade(task, right_answer(task)).pictures
    assert "length minus shine" in pictures[0].svg
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
    task = KIND.generate(3, rulebook.load("no-sweep", "1"), EASIEST)
    form = KIND.form(task)({**right_answer(task), **typed})
    assert list(form.errors) == [field]
    assert form.raw()[field] == typed[field]
