"""Questions with a choice or a measure: every option is the rule module's, right and wrong."""

import random

import pytest

from rigs import rulebook
from rigs.units import INCH, inches
from training.exercises import kinds
from training.exercises.kinds.base import BadAnswer
from training.exercises.kinds.find_fault import PLACES, place_of
from training.exercises.kinds.readings import draw, told_alone

NO_SWEEP, GRATE = rulebook.load("no-sweep"), rulebook.load("grate")

EVERY_FOCUS = [
    (slug, name, difficulty, key)
    for slug in ("choose-one", "choose-several", "enter-measure", "find-fault")
    for difficulty, names in kinds.get(slug).rulebooks.items()
    for name in names
    for key in kinds.get(slug).covers(rulebook.load(name), difficulty)
]


@pytest.mark.parametrize("seed", range(2))
def test_a_task_turns_on_whatever_it_is_to_turn_on(seed):
    for slug, name, difficulty, key in EVERY_FOCUS:
        kind = kinds.get(slug)
        task = kind.generate(seed, rulebook.load(name), difficulty, (key,))
        lines = kind.unanswered(task).lines
        assert key in [line.key for line in lines], (slug, name, key)


@pytest.mark.parametrize("key", told_alone(NO_SWEEP))
def test_a_near_miss_breaks_its_rule_and_a_legal_reading_keeps_it(key):
    for broken in (True, False):
        reading = draw(random.Random(key), NO_SWEEP, 2, key, broken)
        assert reading.finding.failed is broken
        assert reading.full_text.startswith(NO_SWEEP.requirement(key).title)


@pytest.mark.parametrize("difficulty", [1, 2, 3])
def test_of_one_of_several_just_one_is_right(difficulty):
    kind = kinds.get("choose-one")
    for seed in range(20):
        task = kind.generate(seed, NO_SWEEP, difficulty)
        assert len({each.text for each in task.options}) == len(task.options) >= 3
        marks = [kind.grade(task, {"option": str(i)}).marks for i in range(len(task.options))]
        assert sorted(marks) == [0] * (len(marks) - 1) + [1]


def test_of_several_each_tick_is_judged_alone():
    kind = kinds.get("choose-several")
    task = kind.generate(4, NO_SWEEP, 3)
    keys = [each.requirement.key for each in task.options]
    marked = kind.grade(task, {"broken": keys})
    assert [line.right for line in marked.lines] == [each.finding.failed for each in task.options]
    assert 0 < marked.marks < marked.out_of


@pytest.mark.parametrize("key", kinds.get("enter-measure").covers(NO_SWEEP, 3))
def test_a_measure_is_right_where_the_rule_is_just_kept(key):
    kind = kinds.get("enter-measure")
    task = kind.generate(9, NO_SWEEP, 3, (key,))
    value, question = task.just_kept(), task.question
    for off, right in ((0, True), (question.read / 2, True), (question.read * 4, False)):
        for sign in (1, -1):
            answer = {"measure": f"{(value + sign * off) / INCH:.6f} in"}
            assert kind.grade(task, answer).passed is right, answer
    assert kind.grade(task, {"measure": f"{value:.4f} m"}).passed


def test_a_legal_measure_that_is_not_the_last_is_wrong_and_told_so():
    kind = kinds.get("enter-measure")
    task = kind.generate(9, GRATE, 3, ("dropper_length",))
    marked = kind.grade(task, {"measure": inches(task.just_kept() + 6 * INCH)})
    assert not marked.passed
    assert marked.lines[0].outcome == "pass"
    limit = GRATE.requirement("dropper_length").limit_text
    assert marked.remarks == (f"The limit is {limit}.",)


def test_a_measure_without_its_unit_is_refused():
    kind = kinds.get("enter-measure")
    with pytest.raises(BadAnswer):
        kind.grade(kind.generate(9, NO_SWEEP, 1), {"measure": "42"})


@pytest.mark.parametrize("seed", range(20))
def test_a_fault_lies_at_one_place_of_those_offered(seed):
    kind = kinds.get("find-fault")
    task = kind.generate(seed, NO_SWEEP, 3)
    assert len(task.verdict.failed) == 1
    assert place_of(task.fault) in PLACES
    marks = [kind.grade(task, {"place": each}).marks for each in PLACES]
    assert sum(marks) == 1
