"""What a new version changes for one rig, held against judging by hand."""

from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigs.rules import rulebook
from rigs.rules.effect import effect
from rigs.rules.judge import FAIL, judge
from rigs.rules.rulebook import REGULATION
from rigs.words.units import FOOT, INCH
from tests.rigs.rig_factory import gear_books, make_rig, with_limit

DAY = date(2030, 1, 1)
OLD = rulebook.load("no-sweep", "1")


def later(book, drop=(), **limits):
    """Return a later version of ``book`` without some rules and with other limits, SI."""
    rules = tuple(
        with_limit(rule, limits[rule.key]) if rule.key in limits else rule
        for rule in book.requirements
        if rule.key not in drop
    )
    return replace(book, version="2", effective_from=DAY, requirements=rules)


def test_the_same_rules_change_nothing():
    for rig in (make_rig(OLD), make_rig(OLD, droppers=()), make_rig(OLD, droppers=None)):
        assert not any(effect(rig, OLD, later(OLD)))


def test_a_tighter_limit_breaks_what_just_kept_the_old_one():
    rig = make_rig(OLD)  # hung at the very limits
    found = effect(rig, OLD, later(OLD, dropper_spacing=7 * FOOT))
    assert found == (frozenset({"dropper_spacing"}), frozenset(), frozenset())


def test_a_wider_limit_keeps_what_broke_the_old_one():
    old = rulebook.load("grate", "1")  # where the length of a dropper is law
    rig = make_rig(old)
    rig = replace(rig, droppers=tuple(replace(each, length=40 * INCH) for each in rig.droppers))
    found = effect(rig, old, later(old, dropper_length=36 * INCH))
    assert found.keeps == {"dropper_length"}
    assert effect(rig, old, later(old, drop=("dropper_length",))).keeps == {"dropper_length"}


def test_a_custom_that_becomes_law_breaks_what_did_otherwise():
    rig = make_rig(OLD)
    rig = replace(rig, droppers=tuple(replace(each, length=40 * INCH) for each in rig.droppers))
    law = replace(OLD.requirement("dropper_length"), basis=REGULATION)
    rules = tuple(law if rule.key == law.key else rule for rule in OLD.requirements)
    new = replace(OLD, version="2", effective_from=DAY, requirements=rules)
    assert effect(rig, OLD, new).breaks == {"dropper_length"}
    assert effect(rig, OLD, later(OLD, dropper_length=41 * INCH)) == effect(rig, OLD, later(OLD))


def test_a_new_rule_that_nobody_measured_is_untold():
    old = replace(
        OLD, requirements=tuple(rule for rule in OLD.requirements if rule.key != "legs_equal")
    )
    found = effect(make_rig(OLD, legs=()), old, later(OLD))
    assert found == (frozenset(), frozenset(), frozenset({"legs_equal"}))


def test_what_a_rules_own_dates_change_is_no_effect():
    last = replace(OLD.requirement("dropper_spacing"), effective_to=date(2029, 12, 31))
    rules = tuple(last if rule.key == last.key else rule for rule in OLD.requirements)
    old = replace(OLD, requirements=rules)
    rig = make_rig(OLD, droppers=())
    assert "dropper_spacing" not in effect(rig, old, later(old)).keeps


def test_a_version_that_ended_before_cannot_be_held_against():
    with pytest.raises(ValueError, match="has no version for January 1, 2030"):
        effect(make_rig(OLD), replace(OLD, effective_to=date(2029, 12, 31)), later(OLD))


@given(gear_books, st.floats(4, 12), st.floats(30, 50), st.floats(4, 12))
def test_it_is_what_two_judgements_say(book, spacing, length, hung):
    new = later(book, dropper_spacing=spacing * FOOT, dropper_length=length * INCH)
    rig = make_rig(book)
    rig = replace(rig, droppers=tuple(replace(d, length=hung * 4 * INCH) for d in rig.droppers))
    before = {f.key for f in judge(rig, book).regulation if f.outcome == FAIL}
    after = {f.key for f in judge(rig, new).regulation if f.outcome == FAIL}
    found = effect(rig, book, new)
    assert (found.breaks, found.keeps) == (after - before, before - after)
