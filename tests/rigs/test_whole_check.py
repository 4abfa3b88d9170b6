"""Sheets checked by the rule set for the gear and by that of the fishery, by hand."""

from datetime import date

from rigs.check import sheet, whole
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

    def test_a_rule_set_that_is_its_own_fishery_is_there_once(self):
        grate = book("grate")
        assert whole.books_of(grate, grate) == (grate,)


class TestTwoRuleSets:
    def test_what_both_ask_is_told_once(self):
        # Both have the clauses on mesh: shared parts, with one limit.
        books = whole.books_of(book("grate"), book("whiting"))
        found = whole.judged({}, books, IN_SEASON)
        keys = [finding.key for finding in found.findings]
        assert keys.count("mesh_size") == keys.count("mesh_top_clear") == 1
