from collections import Counter
from itertools import permutations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigs.plan import order, planned
from rigs.plan.order import READY
from rigs.plan.steps import PlanStep
from rigs.rules import rulebook
from rigs.rules.judge import judge
from tests.exercises.conftest import right_answer
from training.exercises import kinds
from training.exercises.kinds.order_conversion import FIXES, FLOATS, IDLE, NEEDED, OUT

KIND = kinds.get("order-conversion")
BOOK = rulebook.load("no-sweep", "1")

tasks = st.builds(
    lambda seed, difficulty: KIND.generate(seed, BOOK, difficulty),
    st.integers(0, 2**31 - 1),
    st.sampled_from(sorted(NEEDED)),
)
few = settings(max_examples=25, deadline=None)


def numbered(task, keys):
    """Return the answer that does ``keys`` in that order and leaves all others out."""
    told = {key: str(number) for number, key in enumerate(keys, 1)}
    return {key: told.get(key, OUT) for key in task.jumbled}


def needed(task):
    return [step.key for step in task.steps]


def idle(task):
    return [key for key in task.jumbled if key not in needed(task)]


def first_with(key, difficulty, shown=True):
    """Return the first task whose net needs the step ``key``, or is shown it for nothing."""
    made = (KIND.generate(seed, BOOK, difficulty) for seed in range(400))
    return next(task for task in made if key in (needed(task) if shown else idle(task)))


def step(key, *after, caution=""):
    return PlanStep(key, "mark", key.upper(), "", "", after, caution)


@few
@given(tasks)
def test_the_plans_own_order_gets_full_points_and_the_jumble_does_not(task):
    marked = KIND.grade(task, right_answer(task))
    assert marked.passed
    assert marked.marks == marked.out_of
    assert not KIND.grade(task, KIND.any_answer(task)).passed


@few
@given(tasks, st.randoms(use_true_random=False))
def test_an_order_passes_just_when_every_step_comes_after_what_it_waits_for(task, rng):
    keys = needed(task)
    for _ in range(rng.randint(0, 4)):
        at = rng.randrange(1, len(keys))
        keys[at - 1], keys[at] = keys[at], keys[at - 1]
    waits = all(
        keys.index(first) < keys.index(each.key)
        for each in task.steps
        for first in each.after
        if first in keys
    )
    assert KIND.grade(task, numbered(task, keys)).passed == waits


@few
@given(tasks)
def test_steps_that_may_swap_cost_nothing_swapped(task):
    keys = needed(task)
    swapped = 0
    for at in range(len(keys) - 1):
        one, other = keys[at : at + 2]
        turned = [*keys[:at], other, one, *keys[at + 2 :]]
        marked = KIND.grade(task, numbered(task, turned))
        assert marked.passed == order.may_swap(task.steps, one, other)
        swapped += marked.passed
    remarks = KIND.grade(task, numbered(task, keys)).remarks
    assert bool(remarks) == bool(swapped)
    assert all("in either order" in remark for remark in remarks)


@few
@given(tasks)
def test_a_step_done_for_nothing_or_left_out_costs_its_point_and_says_why(task):
    if not task.may_leave_out:
        assert not idle(task)
        return
    for key in idle(task):
        keys = needed(task)
        marked = KIND.grade(task, numbered(task, [key, *keys]))
        (wrong,) = [line for line in marked.lines if not line.right]
        assert wrong.key == f"needs-{key}"
        assert "not needed on this net" in wrong.title
        assert wrong.measured_text
    for key in needed(task):
        rest = [each for each in needed(task) if each != key]
        marked = KIND.grade(task, numbered(task, rest))
        wrong = {line.key for line in marked.lines if not line.right}
        assert f"needs-{key}" in wrong
        assert all(key in each for each in wrong)


@few
@given(tasks)
def test_no_order_is_printed_that_could_be_learnt_by_heart(task):
    """Pairs are told, and what the net needs; nowhere all steps in a row."""
    marked = KIND.grade(task, KIND.any_answer(task))
    deeds = [each.deed for each in task.steps]
    for text in (*marked.remarks, *(line.measured_text for line in marked.lines)):
        assert sum(deed in text for deed in deeds) <= 2


@few
@given(tasks)
def test_what_the_net_does_not_need_is_met_on_it(task):
    """By the judge, and by looking at each dropper: nothing of it is asked of the plan."""
    now = judge(task.rig, BOOK)
    for key in idle(task):
        for broken in FLOATS if key == "set_floats" else [key.removeprefix("set_")]:
            if broken in (*FIXES, *FLOATS):
                assert not now.finding(broken).failed
        if key in ("mark_sweep", "cut_sweep"):
            assert task.rig.sweep is None
        if key == "cut_down":
            lengths = {e.length for e in task.rig.droppers if e.diameter == task.choices.chain}
            least = task.choices.length + planned.pitch(task.choices.chain)
            assert all(length < least for length in lengths)
    for key in needed(task):
        if key.removeprefix("set_") in FIXES:
            assert now.finding(key.removeprefix("set_")).failed


def test_nets_need_different_things_and_no_step_is_needed_or_idle_by_itself():
    for difficulty in NEEDED:
        made = [KIND.generate(seed, BOOK, difficulty) for seed in range(150)]
        assert len({frozenset(needed(task)) for task in made}) > 40
        assert {len(needed(task)) for task in made} <= set(
            range(NEEDED[difficulty][0], NEEDED[difficulty][1] + 1)
        )
        low, high = IDLE[difficulty]
        assert {len(idle(task)) for task in made} == set(range(low, high + 1))
        if difficulty == 1:
            continue
        shown, wanted = Counter(), Counter()
        for task in made:
            shown.update(task.jumbled)
            wanted.update(needed(task))
        for key in ("set_floats", "cut_down", "take_off", *(f"set_{each}" for each in FIXES)):
            assert 0.2 < wanted[key] / shown[key] < 0.85, key


def by_heart(task, keep):
    """Answer with one order for all nets, of those steps that ``keep`` keeps."""
    heart = "mark_sweep set_footrope_excess mark_places ready cut_sweep take_off cut_down hang"
    rank = {key: at for at, key in enumerate(heart.split())} | {"check": 98, "measure": 99}
    keys = sorted(filter(keep, task.jumbled), key=lambda key: rank.get(key, 50))
    return numbered(task, keys)


@pytest.mark.parametrize("difficulty", [2, 3])
def test_one_order_for_all_nets_does_not_pass(difficulty):
    made = [KIND.generate(seed, BOOK, difficulty) for seed in range(150)]
    shown, wanted = Counter(), Counter()
    for task in made:
        shown.update(task.jumbled)
        wanted.update(needed(task))
    # All of them; those that are needed more often than not; and only what every net needs.
    for keep in (
        lambda key: True,
        lambda key: wanted[key] > shown[key] / 2,
        lambda key: wanted[key] > 0.8 * shown[key],
    ):
        passed = sum(KIND.grade(task, by_heart(task, keep)).passed for task in made)
        assert passed < 0.2 * len(made)


def test_goggles_go_on_before_the_first_cut():
    task = first_with("cut_sweep", 1)
    keys = needed(task)
    keys.remove(READY.key)
    keys.insert(keys.index("cut_sweep") + 1, READY.key)
    marked = KIND.grade(task, numbered(task, keys))
    wrong = [line for line in marked.lines if not line.right]
    assert f"{READY.key}-before-cut_sweep" in [line.key for line in wrong]
    assert all("hurts" in line.why for line in wrong)
    assert not marked.passed


def test_cutting_before_marking_costs_its_point_and_says_why():
    task = first_with("cut_sweep", 1)
    keys = needed(task)
    keys.remove("mark_sweep")
    keys.insert(keys.index("cut_sweep") + 1, "mark_sweep")
    wrong = [line for line in KIND.grade(task, numbered(task, keys)).lines if not line.right]
    assert "mark_sweep-before-cut_sweep" in [line.key for line in wrong]
    assert "put the sweep back" in wrong[0].why


def test_a_rope_is_fixed_before_places_are_marked_along_it():
    made = (KIND.generate(seed, BOOK, 3) for seed in range(400))
    task = next(t for t in made if {"set_footrope_excess", "mark_places"} <= set(needed(t)))
    keys = needed(task)
    keys.remove("set_footrope_excess")
    keys.insert(keys.index("mark_places") + 1, "set_footrope_excess")
    wrong = [line for line in KIND.grade(task, numbered(task, keys)).lines if not line.right]
    assert "set_footrope_excess-before-mark_places" in [line.key for line in wrong]


def test_the_steps_tell_no_limit_and_no_number_of_the_net():
    for difficulty in NEEDED:
        for seed in range(30):
            for _, title in KIND.generate(seed, BOOK, difficulty).shown_steps:
                assert not any(letter.isdigit() for letter in title)


def test_a_number_given_twice_is_refused_beside_its_step_and_kept():
    task = KIND.generate(1, BOOK, 1)
    answer = right_answer(task)
    typed = {**answer, "check": answer[READY.key]}
    form = KIND.form(task)(typed)
    (name,) = form.errors
    assert name in ("check", READY.key)
    assert "Use each number once" in form.errors[name][0]
    assert form.raw() == typed


@pytest.mark.parametrize("number", ["", "0", "99", "first", OUT])
def test_a_step_without_a_number_of_the_list_is_refused(number):
    """At the first level every step is needed."""
    task = KIND.generate(1, BOOK, 1)
    form = KIND.form(task)({**right_answer(task), "check": number})
    assert list(form.errors) == ["check"]


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


def test_all_that_cuts_waits_for_goggles_and_nothing_else_does():
    steps = (step("a"), step("b", "a", caution="cut"), step("c"), step("d", caution="cut"))
    ready = order.with_ready(steps)
    assert [each.key for each in ready] == ["a", READY.key, "b", "c", "d"]
    assert [each.key for each in ready if READY.key in each.after] == ["b", "d"]
    assert order.with_ready(steps[:1]) == steps[:1]
