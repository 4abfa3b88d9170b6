"""Questions with a choice or a measure: every option is the rule module's, right and wrong."""

from collections import Counter
from itertools import pairwise

import pytest

from rigs import requirements
from rigs.drawing import marks
from rigs.drawing.plan import plan_view
from rigs.make import near
from rigs.rules import rulebook
from rigs.words.units import feet_inches
from training.exercises import kinds
from training.exercises.kinds.base import BadAnswer
from training.exercises.kinds.choose_one import NONE
from training.exercises.kinds.find_fault import KEYS, NOTHING, PLACES, RULE_AT, place_of
from training.exercises.kinds.one_reading import BROKEN, MET

NO_SWEEP, GRATE = rulebook.load("no-sweep", "1"), rulebook.load("grate", "1")

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


@pytest.mark.parametrize("difficulty", [1, 2, 3])
def test_of_several_sizes_just_one_choice_is_right(difficulty):
    kind = kinds.get("choose-one")
    for seed in range(60):
        task = kind.generate(seed, NO_SWEEP, difficulty)
        assert len({each.text for each in task.options}) == len(task.options) >= 3
        choices = [*map(str, range(len(task.options))), NONE]
        marks = {said: kind.grade(task, {"option": said}).marks for said in choices}
        assert sorted(marks.values()) == [0] * (len(choices) - 1) + [1]
        met = [each.value for each in task.options if not each.finding.failed]
        if met:
            asked = max(met) if task.most else min(met)
            assert marks[str([each.value for each in task.options].index(asked))] == 1
        else:
            assert marks[NONE] == 1


def test_no_place_among_the_sizes_pays_more_than_the_others():
    """Six choices at level 3: a place is right a sixth of the time, give or take six sigma."""
    kind, tasks = kinds.get("choose-one"), 1200
    right = Counter(kind.generate(seed, GRATE, 3).right for seed in range(tasks))
    assert set(right) == {"0", "1", "2", "3", "4", NONE}
    assert max(right.values()) < tasks / 6 + 6 * (tasks / 6 * 5 / 6) ** 0.5


def test_of_several_each_tick_is_judged_alone():
    kind = kinds.get("choose-several")
    for seed in range(20):
        task = kind.generate(seed, NO_SWEEP, 3)
        keys = [each.requirement.key for each in task.options]
        marked = kind.grade(task, {"broken": keys})
        fails = [each.finding.failed for each in task.options]
        assert [line.right for line in marked.lines] == fails
        assert marked.passed is all(fails)
        assert kind.grade(task, {"broken": task.right}).passed


def test_neither_all_nor_none_of_several_passes_often():
    """Six readings at level 3, each broken by the toss of a coin: all of them one time in 64."""
    kind, tasks = kinds.get("choose-several"), 300
    passed = Counter()
    for seed in range(tasks):
        task = kind.generate(seed, NO_SWEEP, 3)
        every = [each.requirement.key for each in task.options]
        for name, said in (("all", every), ("none", [NONE])):
            passed[name] += kind.grade(task, {"broken": said}).passed
    assert passed["all"] < tasks * 0.06
    assert 0 < passed["none"] < tasks * 0.06


def test_none_of_several_goes_with_no_other():
    kind = kinds.get("choose-several")
    task = kind.generate(1, NO_SWEEP, 1)
    with pytest.raises(BadAnswer):
        kind.grade(task, {"broken": [NONE, task.options[0].requirement.key]})


def test_no_two_of_several_are_about_the_same_thing():
    kind = kinds.get("choose-several")
    for seed in range(40):
        options = kind.generate(seed, GRATE, 3).options
        assert len({near.about(each.requirement) for each in options}) == len(options) == 6


@pytest.mark.parametrize("seed", range(20))
def test_a_fault_lies_at_one_place_of_those_offered_or_nowhere(seed):
    kind = kinds.get("find-fault")
    task = kind.generate(seed, NO_SWEEP, 3)
    assert len(task.verdict.failed) == (task.place != NOTHING)
    assert task.place == place_of(task.fault)
    assert task.place in PLACES
    marks = [kind.grade(task, {"place": each}).marks for each in PLACES]
    assert sum(marks) == 1


@pytest.mark.parametrize("difficulty", [1, 2, 3])
def test_a_fault_is_as_likely_at_each_place_as_nowhere(difficulty):
    kind, each = kinds.get("find-fault"), 20
    tasks = [kind.generate(seed, NO_SWEEP, difficulty) for seed in range(each * len(PLACES))]
    for place in PLACES:
        # A seventh of 140 within four standard errors, 4 * sqrt(140 * 6 / 49) = 16.6.
        assert sum(task.place == place for task in tasks) == pytest.approx(each, abs=16.6)


def test_a_rule_to_be_looked_for_is_broken_or_met_by_little():
    kind = kinds.get("find-fault")
    for key in KEYS:
        for side in (MET, BROKEN):
            task = kind.generate(5, NO_SWEEP, 3, (key, side))
            assert RULE_AT.get(task.place, (None,))[0] == (key if side == BROKEN else None)


def test_every_distance_is_written_on_the_drawing():
    """A gap of 8 ft at a wing end is no near miss to whoever cannot read it."""
    for seed in range(10):
        rig = kinds.get("find-fault").generate(seed, NO_SWEEP, 3).rig
        written = Counter(text.text for text in plan_view(rig).texts)
        stops = marks.stops(rig.footrope, rig.droppers)
        assert Counter(feet_inches(b - a) for a, b in pairwise(stops)) <= written
        gaps = {feet_inches(b.position - a.position) for a, b in pairwise(rig.floats)}
        texts = " ".join(written)
        assert all(gap in texts for gap in gaps)


def test_the_widest_gap_is_no_more_often_the_fault_than_not():
    """Of wings with the widest gap on the net, half break the rule and half do not."""
    kind = kinds.get("find-fault")
    guessed = 0
    for seed in range(140):
        task = kind.generate(seed, NO_SWEEP, 3)
        values, spots = requirements.find("dropper_spacing").read(task.rig)
        side = max(zip(values, spots, strict=True), key=lambda each: each[0])[1][0]
        guessed += kind.grade(task, {"place": f"the {side} wing"}).passed
    # Two places of seven are wings: who could tell would be right 40 times in 140.
    assert guessed <= 55
