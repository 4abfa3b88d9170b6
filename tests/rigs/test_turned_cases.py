"""Which cases a new version turns. The later versions here are invented."""

from dataclasses import replace
from datetime import date

import pytest

from rigs.rules import cases, rulebook
from rigs.rules.cases.turned import of_rules, turned
from rigs.rules.changes import NO_RULE
from rigs.words.units import FOOT
from tests.rigs.rig_factory import with_limit

FIRST = date(2027, 3, 1)


def later(book, drop=(), **limits):
    """Return a version from ``FIRST`` on without some rules and with other limits, SI."""
    rules = tuple(
        with_limit(rule, limits[rule.key]) if rule.key in limits else rule
        for rule in book.requirements
        if rule.key not in drop
    )
    return replace(book, version="2", effective_from=FIRST, requirements=rules)


def told(found):
    return {each.case.title: each.turns for each in found}


@pytest.mark.parametrize("name", rulebook.names())
def test_the_same_rules_turn_no_case(name):
    book = rulebook.versions(name)[0]
    assert of_rules(name)
    new = replace(later(book), effective_from=max(FIRST, book.effective_from))
    assert turned(book, new) == ()


def test_a_wider_limit_meets_what_was_broken():
    book = rulebook.load("no-sweep", "1")
    found = told(turned(book, later(book, dropper_spacing=9 * FOOT)))
    (turn,) = found["One step of 8 ft 1 in"]
    assert turn.title == "Droppers along the wings"
    assert turn.said == (
        "broken",
        "The widest gap along the wings is 8 ft 1 in; one has to hang every 8 ft: 1 in too wide.",
    )
    assert turn.would_say[0] == "met"
    # Still broken, but by less: the case says by how much.
    (turn,) = found["A wing dropper missing between two others"]
    assert turn.said[0] == turn.would_say[0] == "broken"
    assert (turn.before.margin_text, turn.after.margin_text) == ("8 ft too wide", "7 ft too wide")
    assert "Floats 123 cm apart" not in found


def test_they_are_the_cases_that_no_longer_hold():
    book = rulebook.load("no-sweep", "1")
    new = later(book, dropper_spacing=9 * FOOT, float_diameter=0.25)
    on_the_day = replace(new, effective_from=book.effective_from)
    wrong = {case.title for case in of_rules("no-sweep") if cases.mismatches(case, on_the_day)}
    assert wrong
    assert wrong <= set(told(turned(book, new)))


def test_a_rule_that_goes_turns_only_the_cases_that_name_it():
    book = rulebook.load("no-sweep", "1")
    found = turned(book, later(book, drop=("dropper_at_centre",)))
    named = {
        case.title
        for case in of_rules("no-sweep")
        if "dropper_at_centre" in {*(each.key for each in case.broken), *case.not_measured}
    }
    assert set(told(found)) == named
    assert {turn.would_say for each in found for turn in each.turns} == {(NO_RULE,)}


def test_a_trip_is_asked_on_the_same_day_of_a_later_year():
    book = rulebook.load("whiting", "1")
    found = turned(book, later(book, letter_day=30))
    assert found
    for each in found:
        assert each.day >= FIRST
        assert (each.day.month, each.day.day) == (each.case.day.month, each.case.day.day)
        assert [turn.after.key for turn in each.turns] == ["letter_day"]
        assert each.turns[0].before.sentence.endswith(" holds from the day after.")
        assert each.turns[0].after.sentence.endswith(" holds from 30 days after.")
    # A season that no longer opens on a case's day turns it.
    (season,) = book.requirement("season").limit
    short = with_limit(book.requirement("season"), (replace(season, first=(12, 1)),))
    rules = tuple(short if rule.key == "season" else rule for rule in book.requirements)
    found = turned(book, replace(later(book), requirements=rules))
    assert found
    assert all("season" in {turn.after.key for turn in each.turns} for each in found)
