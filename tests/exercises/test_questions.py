"""Questions with a choice or a measure: every option is the rule module's, right and wrong."""

import random

import pytest

from rigs import rulebook
from training.exercises import kinds
from training.exercises.kinds.find_fault import PLACES, place_of
from training.exercises.kinds.readings import draw, told_alone

NO_SWEEP = rulebook.load("no-sweep")

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


@pytest.mark.parametrize("seed", range(20))
def test_a_fault_lies_at_one_place_of_those_offered(seed):
    kind = kinds.get("find-fault")
    task = kind.generate(seed, NO_SWEEP, 3)
    assert len(task.verdict.failed) == 1
    assert place_of(task.fault) in PLACES
    marks = [kind.grade(task, {"place": each}).marks for each in PLACES]
    assert sum(marks) == 1
