"""One reading, met or broken."""

import pytest
from scipy.stats import binomtest

from rigs.make import near
from rigs.rules import rulebook
from training.exercises import kinds
from training.exercises.kinds.base import BadAnswer
from training.exercises.kinds.one_reading import BROKEN, MET

KIND = kinds.get("one-reading")
EVERY_RULE = [
    (name, level, key)
    for level, names in KIND.rulebooks.items()
    for name in names
    for key in near.keys(rulebook.load(name))
]


@pytest.mark.parametrize("level", [1, 2, 3])
def test_a_reading_is_broken_as_often_as_met_for_each_rule(level):
    """By an exact binomial test: a fair coin fails this for a rule in one of 100,000 tries."""
    book = rulebook.load(KIND.rulebooks[level][-1])
    for key in near.keys(book):
        broken = sum(KIND.generate(seed, book, level, (key,)).broken for seed in range(200))
        assert binomtest(broken, 200).pvalue > 1e-5, (key, broken)


def test_the_side_can_be_asked_for():
    for name, level, key in EVERY_RULE:
        book = rulebook.load(name)
        for side in (MET, BROKEN):
            task = KIND.generate(5, book, level, (key, side))
            assert (task.right, task.requirement.key) == (side, key)


def test_without_a_focus_every_rule_comes_up():
    book = rulebook.load("grate", "1")
    asked = {KIND.generate(seed, book, 3).requirement.key for seed in range(600)}
    assert asked == set(near.keys(book))


@pytest.mark.parametrize("side", [MET, BROKEN])
def test_an_answer_is_worth_a_point_or_none(side):
    task = KIND.generate(1, rulebook.load("no-sweep", "1"), 3, ("top_leg_wire", side))
    for said in (MET, BROKEN):
        marked = KIND.grade(task, {"said": said})
        (line,) = marked.lines
        right = said == side
        assert (marked.passed, marked.marks, marked.out_of) == (right, int(right), 1)
        assert line.yours == said
        assert line.sentence == task.finding.sentence
    with pytest.raises(BadAnswer):
        KIND.grade(task, {"said": "not sure"})


def test_the_question_tells_no_limit():
    for name, level, key in EVERY_RULE:
        book = rulebook.load(name)
        task = KIND.generate(3, book, level, (key, BROKEN))
        shown = f"{KIND.shown(task)['about']} {task.reading}"
        assert task.requirement.allowed_text not in shown
