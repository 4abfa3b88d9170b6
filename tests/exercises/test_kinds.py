"""What all kinds of exercise have in common."""

import json
import os
import subprocess
import sys
from datetime import date

import pytest
from django import forms
from hypothesis import given
from hypothesis import strategies as st

from rigs.rules import rulebook
from training.exercises import kinds
from training.exercises.kinds.base import EASIEST, HARDEST, BadAnswer

DIFFICULTIES = range(EASIEST, HARDEST + 1)
TODAY = date(2026, 7, 1)

EVERY_TASK = [
    (slug, name, difficulty)
    for slug, kind in kinds.KINDS.items()
    for difficulty in DIFFICULTIES
    for name in kind.rulebooks[difficulty]
]

ASK = """
import django; django.setup()
from rigs.rules import rulebook
from training.exercises import kinds
for slug, kind in kinds.KINDS.items():
    for difficulty, names in kind.rulebooks.items():
        for name in names:
            for seed in (0, 1, 2**31 - 1):
                print(kind.generate(seed, rulebook.load(name), difficulty))
"""


def _answer_blank(kind, task):
    return kind.form(task)({}).raw()


@pytest.mark.parametrize(("slug", "name", "difficulty"), EVERY_TASK)
def test_the_same_seed_gives_the_same_task(slug, name, difficulty):
    book, kind = rulebook.load(name), kinds.get(slug)
    tasks = [kind.generate(seed, book, difficulty) for seed in range(20)]
    assert tasks == [kind.generate(seed, book, difficulty) for seed in range(20)]
    assert len({repr(task) for task in tasks}) > 15


def test_other_processes_make_the_same_tasks():
    """Python hashes text differently in every process, which must not show."""
    told = []
    for hash_seed in ("0", "1", "4242"):
        # The rule sets on file are all that is needed, whatever database there is or is not.
        database = {"DATABASE_URL": "sqlite:///:memory:"}
        environment = {**os.environ, **database, "PYTHONHASHSEED": hash_seed}
        run = subprocess.run(
            [sys.executable, "-c", ASK], env=environment, capture_output=True, text=True, check=True
        )
        told.append(run.stdout)
    assert told[0].count("\n") == 3 * len(EVERY_TASK)
    assert told[0] == told[1] == told[2]


@pytest.mark.parametrize("slug", kinds.KINDS)
def test_the_harder_the_task_the_more_rule_sets_it_may_come_from(slug):
    kind = kinds.get(slug)
    for difficulty in DIFFICULTIES:
        picked = {kind.pick_rulebook(seed, difficulty, TODAY).name for seed in range(50)}
        assert picked == set(kind.rulebooks[difficulty])


@pytest.mark.parametrize(("slug", "name", "difficulty"), EVERY_TASK)
def test_a_blank_answer_is_either_refused_or_worth_nothing(slug, name, difficulty):
    kind = kinds.get(slug)
    task = kind.generate(7, rulebook.load(name), difficulty)
    with pytest.raises(BadAnswer):
        kind.grade(task, _answer_blank(kind, task))


def _entries(field):
    """Return a strategy for what a browser may send for a form's ``field``, or a meddler."""
    values = [str(value) for value, _ in getattr(field, "choices", ()) if value] + ["x"]
    if isinstance(field, forms.MultipleChoiceField):
        return st.lists(st.sampled_from(values), max_size=4)
    if isinstance(field, forms.ChoiceField):
        return st.sampled_from(values)
    if isinstance(field, forms.BooleanField):
        return st.booleans()
    return st.one_of(st.text(max_size=30), st.sampled_from(["3 ft 6 in", "8 ft", "42 in", "0"]))


@pytest.mark.parametrize(("slug", "name", "difficulty"), EVERY_TASK)
@given(data=st.data())
def test_any_answer_however_odd_is_refused_or_graded_within_its_points(
    slug, name, difficulty, data
):
    kind = kinds.get(slug)
    seed = data.draw(st.integers(0, 2**31 - 1))
    task = kind.generate(seed, rulebook.load(name), difficulty)
    answer = data.draw(
        st.fixed_dictionaries(
            {name: _entries(field) for name, field in kind.form(task)().fields.items()}
        )
    )
    for told in (answer, kind.any_answer(task) | answer, kind.any_answer(task)):
        try:
            marked = kind.grade(task, told)
        except BadAnswer:
            assert told != kind.any_answer(task)
            continue
        assert 0 <= marked.marks <= marked.out_of
        assert marked.lines
        json.dumps([line.as_record() for line in marked.lines])


@pytest.mark.parametrize(("slug", "name", "difficulty"), EVERY_TASK)
def test_answers_drawn_from_the_form_are_graded_in_every_kind(slug, name, difficulty):
    """So that the test above does not come to try nothing but what is refused."""
    kind = kinds.get(slug)
    for seed in range(5):
        task = kind.generate(seed, rulebook.load(name), difficulty)
        assert kind.grade(task, kind.any_answer(task)).out_of > 0
