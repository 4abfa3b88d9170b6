import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigs import chain, rulebook
from rigs.rulebook import ROUNDING
from rigs.units import FOOT, POUND, parse_mass, pounds
from training.exercises import kinds
from training.exercises.kinds.base import HARDEST
from training.exercises.kinds.pick_chain import CHOICES

KIND = kinds.get("pick-chain")
EVERY = [(name, difficulty) for difficulty, names in KIND.rulebooks.items() for name in names]

tasks = st.builds(
    lambda seed, which: KIND.generate(seed, rulebook.load(which[0]), which[1]),
    st.integers(0, 2**31 - 1),
    st.sampled_from(EVERY),
)
choices = st.sampled_from(CHOICES)


def answer(choice):
    return {"stock": choice.stock.name, "count": str(choice.count)}


@given(tasks)
def test_some_choices_will_do_and_some_legal_ones_will_not(task):
    right = [choice for choice in CHOICES if task.will_do(choice)]
    legal = [
        choice
        for choice in CHOICES
        if choice.stock.size <= task.rulebook.requirement("dropper_stock").limit + ROUNDING
    ]
    assert right
    assert set(right) < set(legal)


@given(tasks, choices)
def test_a_choice_passes_when_it_is_legal_and_weighs_what_is_needed(task, choice):
    metres, places = task.length * choice.count, task.places
    weight = chain.mass_per_metre(choice.stock) * metres * chain.KEPT_IN_SEA_WATER
    needs = [choice.stock.size <= task.rulebook.requirement("dropper_stock").limit + ROUNDING]
    if task.at_least is not None:
        needs.append(weight >= task.at_least)
    if task.at_most is not None:
        needs.append(weight * places <= task.at_most)
    marked = KIND.grade(task, answer(choice))
    assert marked.marks == sum(needs)
    assert marked.out_of == len(needs)
    assert marked.passed == all(needs)


@given(tasks)
def test_the_hardest_tasks_have_a_floor_and_a_ceiling(task):
    both = task.at_least is not None and task.at_most is not None
    assert both == (task.difficulty == HARDEST)
    assert task.at_least is not None or task.at_most is not None


@given(tasks, choices)
def test_the_weights_on_the_page_are_enough_to_find_the_answer(task, choice):
    """Whoever reckons with the rounded figures comes to the same answer."""
    shown = KIND.shown(task)
    row = next(each for each in shown["stocks"] if each["name"] == choice.stock.name)
    a_foot = parse_mass(row["water"]) if shown["in_water"] else parse_mass(row["air"])
    kept = 1 if shown["in_water"] else float(shown["kept_text"])
    each = a_foot * kept * task.length / FOOT * choice.count
    enough = task.at_least is None or each >= task.at_least
    light = task.at_most is None or each * shown["places"] <= task.at_most
    assert (enough and light) == task.meets_need(choice)


@given(tasks, choices)
def test_needs_are_set_as_they_are_printed(task, choice):
    for need in (task.at_least, task.at_most):
        if need is not None:
            assert parse_mass(pounds(need)) == pytest.approx(need, abs=1e-9 * POUND)


@given(tasks, choices)
def test_the_table_shows_every_choice_and_its_ratios(task, choice):
    marked = KIND.grade(task, answer(choice))
    assert len(marked.table) == len(CHOICES)
    assert [row["name"] for row in marked.table if row["chosen"]] == [str(choice).capitalize()]
    assert {row["will_do"] for row in marked.table} == {True, False}
    doubled = next(row for row in marked.table if row["name"] == "Two 5/16 in")
    assert doubled["thumb"] == "1.00"
    assert float(doubled["geometry"]) == pytest.approx(1.2, abs=0.05)
    assert float(doubled["area"]) == pytest.approx(1.39, abs=0.01)


@given(tasks)
def test_more_weight_than_needed_is_remarked_upon(task):
    right = sorted((each for each in CHOICES if task.will_do(each)), key=task.at_each)
    assert KIND.grade(task, answer(right[0])).remarks == ()
    for heavier in right[1:]:
        (remark,) = KIND.grade(task, answer(heavier)).remarks
        assert str(right[0]) in remark.lower()


def test_an_unknown_chain_is_refused_beside_its_field():
    task = KIND.generate(1, rulebook.load("no-sweep"), 1)
    assert list(KIND.form(task)({"stock": "5 in", "count": "1"}).errors) == ["stock"]
    assert list(KIND.form(task)({"stock": "3/8 in"}).errors) == ["count"]
