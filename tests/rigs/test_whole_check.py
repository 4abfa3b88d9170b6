"""Sheets checked by the rule set for the gear and by that of the fishery, by hand."""

from datetime import date

from rigs.check import sheet, steps, whole
from rigs.rules import rulebook

IN_SEASON = date(2026, 10, 1)


def book(name, day=IN_SEASON):
    return rulebook.in_force(name, day)


class TestOneRuleSet:
    def test_it_says_what_the_sheet_says(self):
        answers = {"no_sweep": False}
        gear = book("no-sweep")
        found = whole.judged(answers, whole.books_of(gear), IN_SEASON)
        assert found.findings == sheet.judged(answers, gear, IN_SEASON).findings
        assert found.tally() == sheet.tally(sheet.judged(answers, gear, IN_SEASON))
        assert found.legal is None

    def test_one_that_is_its_own_fishery_is_asked_for_gear_and_for_trip(self):
        grate = book("grate")
        alone = {each.key for each in steps.asked(whole.books_of(grate))}
        both = {each.key for each in steps.asked(whole.books_of(grate, grate))}
        assert both - alone == {
            *("season", "area", "kept_species", "hake_weight", "bycatch_share"),
            *("red_hake_by_mesh", "hake_by_mesh"),
        }
        found = whole.judged({}, whole.books_of(grate, grate), IN_SEASON)
        assert found.rulebooks == (grate,)


class TestTwoRuleSets:
    def test_what_both_ask_is_told_once(self):
        # Both have the clauses on mesh: shared parts, with one limit.
        books = whole.books_of(book("grate"), book("whiting"))
        found = whole.judged({}, books, IN_SEASON)
        keys = [finding.key for finding in found.findings]
        assert keys.count("mesh_size") == keys.count("mesh_top_clear") == 1
