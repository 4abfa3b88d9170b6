from itertools import permutations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigs import rulebook
from rigs.judge import judge
from rigs.plan import order
from rigs.plan.steps import Step
from training.exercises import kinds
from training.exercises.kinds.order_conversion import SPOILT

from .conftest import right_answer

KIND = kinds.get("order-conversion")
BOOK = rulebook.load("no-sweep")

tasks = st.builds(
    lambda seed, difficulty: KIND.generate(seed, BOOK, difficulty),
    st.integers(0, 2**31 - 1),
    st.sampled_from(sorted(SPOILT)),
)
few = settings(max_examples=25)

# Tasks are made anew from their seeds, so these may never change.
PINNED = [
    (1, 1, "mark_places hang measure cut_sweep check mark_sweep take_off"),
    (2026, 2, "take_off cut_sweep mark_sweep hang set_floats measure mark_places check"),
    (
        2**31 - 1,
        3,
        "take_off mark_places mark_sweep check measure set_legs_equal hang set_floats cut_sweep",
    ),
]


def numbered(keys):
    return {key: str(number) for number, key in enumerate(keys, 1)}


def step(key, *after):
    return Step(key, "mark", key.upper(), "", "", after)


@pytest.mark.parametrize(("seed", "difficulty", "keys"), PINNED)
def test_tasks_stay_as_they_were(seed, difficulty, keys):
    assert KIND.generate(seed, BOOK, difficulty).jumbled == tuple(keys.split())


@few
@given(tasks)
def test_the_net_has_a_sweep_and_is_spoilt_in_nothing_else_than_is_said(task):
    assert task.rig.sweep is not None
    broken = judge(task.rig, rulebook.load("chain-sweep")).failed_keys
    assert broken == set(SPOILT[task.difficulty])


@few
@given(tasks)
def test_the_plans_own_order_gets_full_marks_and_the_jumble_does_not(task):
    marked = KIND.grade(task, right_answer(task))
    assert marked.passed
    assert marked.marks == marked.out_of == len(order.needs(task.steps)) >= 7
    jumbled = KIND.grade(task, numbered(task.jumbled))
    assert not jumbled.passed
    assert jumbled.marks < jumbled.out_of


@few
@given(tasks, st.randoms(use_true_random=False))
def test_an_order_passes_just_when_every_step_comes_after_what_it_waits_for(task, rng):
    keys = list(task.jumbled)
    rng.shuffle(keys)
    waits = all(
        keys.index(first) < keys.index(each.key) for each in task.steps for first in each.after
    )
    assert KIND.grade(task, numbered(keys)).passed == waits


@few
@given(tasks)
def test_steps_that_may_swap_cost_nothing_swapped(task):
    keys = [each.key for each in task.steps]
    swapped = 0
    for at in range(len(keys) - 1):
        one, other = keys[at : at + 2]
        turned = [*keys[:at], other, one, *keys[at + 2 :]]
        marked = KIND.grade(task, numbered(turned))
        assert marked.passed == order.may_swap(task.steps, one, other)
        swapped += marked.passed
    assert swapped
    (remark,) = KIND.grade(task, numbered(keys)).remarks
    assert "in either order" in remark


def test_cutting_before_marking_costs_its_mark_and_says_why():
    task = KIND.generate(1, BOOK, 1)
    keys = [each.key for each in task.steps]
    keys.remove("mark_sweep")
    keys.insert(keys.index("cut_sweep") + 1, "mark_sweep")
    marked = KIND.grade(task, numbered(keys))
    (wrong,) = [line for line in marked.lines if not line.right]
    assert wrong.key == "mark_sweep-before-cut_sweep"
    assert marked.marks == marked.out_of - 1
    assert not marked.passed
    assert "put back" in wrong.why
    assert marked.remarks[0].startswith("One order that works: 1. Mark the sweep; 2.")


def test_a_number_given_twice_is_refused_beside_its_step_and_kept():
    task = KIND.generate(1, BOOK, 1)
    typed = {**right_answer(task), "hang": "1"}
    form = KIND.form(task)(typed)
    (name,) = form.errors
    assert name in ("hang", "mark_sweep")
    assert "Use each number once" in form.errors[name][0]
    assert form.raw() == typed


@pytest.mark.parametrize("number", ["", "0", "99", "first"])
def test_a_step_without_a_number_of_the_list_is_refused(number):
    task = KIND.generate(1, BOOK, 1)
    form = KIND.form(task)({**right_answer(task), "hang": number})
    assert list(form.errors) == ["hang"]


# The order of steps, told of small plans -------------------------------------------


def test_needs_that_follow_from_others_are_left_out():
    steps = (step("a"), step("b", "a"), step("c", "a", "b"), step("d", "c"))
    assert [need.key for need in order.needs(steps)] == [
        "a-before-b",
        "b-before-c",
        "c-before-d",
    ]


def test_steps_may_swap_unless_one_waits_for_the_other_at_whatever_remove():
    steps = (step("a"), step("b", "a"), step("c", "b"), step("d"))
    assert not order.may_swap(steps, "a", "c")
    assert not order.may_swap(steps, "c", "a")
    assert order.may_swap(steps, "d", "a")


def test_the_needs_allow_just_the_orders_that_the_steps_allow():
    steps = (step("a"), step("b"), step("c", "a"), step("d", "a", "b", "c"), step("e", "d"))
    for keys in permutations("abcde"):
        allowed = all(keys.index(f) < keys.index(s.key) for s in steps for f in s.after)
        assert order.is_kept(steps, keys) == allowed


def test_what_is_no_step_of_the_plan_is_not_waited_for():
    steps = (step("a", "gone"), step("b", "a"))
    assert order.is_kept(steps, ("a", "b"))


def test_the_page_says_what_a_marked_limit_means():
    shown = KIND.shown(KIND.generate(1, BOOK, 1))
    assert "written from memory" in shown["from_memory"]
