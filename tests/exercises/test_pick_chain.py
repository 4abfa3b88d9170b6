import statistics

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigs.physics import chain
from rigs.rules import rulebook
from rigs.rules.rulebook import ROUNDING
from rigs.words.units import FOOT, POUND, parse_mass, pounds
from training.exercises import kinds
from training.exercises.kinds.pick_chain import CHOICES, CLEAR

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
    needs = [
        choice.stock.size <= task.rulebook.requirement("dropper_stock").limit + ROUNDING,
        weight >= task.at_least,
        weight * places <= task.at_most,
    ]
    marked = KIND.grade(task, answer(choice))
    assert marked.marks == sum(needs)
    assert marked.out_of == len(needs)
    assert marked.passed == task.will_do(choice) == all(needs)


@pytest.mark.parametrize(("name", "level"), EVERY)
def test_no_choice_passes_more_often_than_by_chance(name, level):
    """
    Heaviest, lightest or any other: each is right about as often as its like.

    What will do is what passes, as held above: grading writes a whole table beside each choice.
    """
    book = rulebook.load(name)
    made = [KIND.generate(seed, book, level) for seed in range(150)]
    allowed = [each for each in CHOICES if not made[0].size_finding(each).failed]
    for choice in CHOICES:
        passed = sum(task.will_do(choice) for task in made)
        if choice not in allowed:
            assert not passed
        # Where two choices are hardly apart in weight they are right together at level 1.
        assert passed < (2 if level == 1 else 1.7) / len(allowed) * len(made), choice
    # Neither is it enough to weigh well and not to know which sizes are allowed.
    tempting = sum(
        any(task.meets_need(each) and each not in allowed for each in CHOICES) for task in made
    )
    assert tempting > 0.05 * len(made)


def nearness(task):
    """Return by what share of it a need differs from the weight of the nearest choice."""
    return min(
        abs(need / weigh(choice) - 1)
        for need, weigh in ((task.at_least, task.at_each), (task.at_most, task.in_all))
        for choice in CHOICES
    )


def test_the_higher_the_level_the_nearer_a_need_lies_to_a_choice():
    book = rulebook.load("no-sweep", "1")
    median = {
        level: statistics.median(nearness(KIND.generate(seed, book, level)) for seed in range(100))
        for level in KIND.rulebooks
    }
    assert median[1] > median[2] > median[3] > CLEAR
    assert median[1] > 1.5 * median[3]


@given(tasks, choices)
def test_the_weights_on_the_page_are_enough_to_find_the_answer(task, choice):
    """Whoever reckons with the rounded figures comes to the same answer."""
    shown = KIND.shown(task)
    row = next(each for each in shown["stocks"] if each["name"] == choice.stock.name)
    a_foot = parse_mass(row["water"]) if shown["in_water"] else parse_mass(row["air"])
    kept = 1 if shown["in_water"] else float(shown["kept_text"])
    each = a_foot * kept * task.length / FOOT * choice.count
    enough = each >= task.at_least
    light = each * shown["places"] <= task.at_most
    assert (enough and light) == task.meets_need(choice)


@given(tasks, choices)
def test_needs_are_set_as_they_are_printed(task, choice):
    for need in (task.at_least, task.at_most):
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
    task = KIND.generate(1, rulebook.load("no-sweep", "1"), 1)
    assert list(KIND.form(task)({"stock": "5 in", "count": "1"}).errors) == ["stock"]
    assert list(KIND.form(task)({"stock": "3/8 in"}).errors) == ["count"]
