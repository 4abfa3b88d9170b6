"""What is open in the days ahead is what is open on each of them, and no day is made up."""

from datetime import date, timedelta

import pytest

from rigs.rules import ahead, openings
from rigs.words.days import long_day

# The whiting fishery's eastern part stays open when the western one shuts, and grate ends on
# November 30: 50 CFR 648.80(a)(15) and (16), as the rule sets have them.
FIRST = date(2026, 11, 10)


@pytest.mark.parametrize("first", [FIRST, date(2026, 12, 20), date(2027, 6, 20)])
def test_each_day_of_each_fishery_is_in_one_spell_and_as_it_is_asked_for(first):
    found = ahead.spells(first)
    for day in (first + timedelta(number) for number in range(ahead.DAYS)):
        for book in openings.fisheries(day):
            (spell,) = (s for s in found[book.name] if s.first <= day <= s.last)
            opened = tuple(p.area for p in openings.parts(book, day) if p.is_open)
            assert (spell.rulebook, spell.areas) == (book, opened)


def test_a_spell_ends_where_what_is_open_changes():
    found = ahead.spells(FIRST)
    for spells in found.values():
        for before, after in zip(spells, spells[1:], strict=False):
            assert after.first == before.last + timedelta(1)
            assert (before.rulebook, before.areas) != (after.rulebook, after.areas)
    assert len(found["whiting"]) > 1


def test_what_is_shut_says_when_it_opens_by_the_rules():
    shut = next(s for spells in ahead.spells(FIRST).values() for s in spells if not s.areas)
    opening = openings.next_opening(shut.rulebook, shut.last)
    assert long_day(opening.day) in str(shut)
    assert opening.areas[0].title in str(shut)


def test_a_day_that_no_rule_set_holds_on_is_in_no_spell():
    first = min(book.effective_from for book in openings.fisheries()) - timedelta(3)
    for spells in ahead.spells(first, 6).values():
        assert all(spell.first >= spell.rulebook.effective_from for spell in spells)


def test_a_script_is_given_the_days_and_each_area_with_its_corners():
    found = ahead.spells(FIRST)
    data = ahead.script_data(found, FIRST)
    assert data["first"] == "2026-11-10"
    assert date.fromisoformat(data["last"]) - FIRST == timedelta(ahead.DAYS - 1)
    for fishery in data["fisheries"]:
        assert [s["words"] for s in fishery["spells"]] == [str(s) for s in found[fishery["name"]]]
        for told, spell in zip(fishery["spells"], found[fishery["name"]], strict=True):
            opened = [each["title"] for each in told["areas"] if "(open that day)" in each["title"]]
            assert opened == [f"{each.title} (open that day)" for each in spell.areas]
    assert len(data["closures"]) == len(openings.closures(FIRST))
