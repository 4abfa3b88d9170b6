"""
The cases beside the rule sets, each written by hand from the text of its clause.

What they expect comes from 50 CFR 648.80, 648.81 and 648.86 as the files' heads say, not
from the judge.
"""

from collections import Counter

import pytest

from rigs.rules import cases, rulebook
from rigs.rules.cases import CaseError

EVERYTHING = cases.everything()


@pytest.mark.parametrize("case", EVERYTHING, ids=str)
def test_the_judge_finds_what_the_case_says(case):
    assert cases.mismatches(case) == []


def test_there_are_enough_of_them_and_no_two_of_one_name():
    assert len(EVERYTHING) >= 150
    assert max(Counter(map(str, EVERYTHING)).values()) == 1


def test_every_rule_that_binds_is_broken_by_some_case():
    broken = {(case.rules, each.key) for case in EVERYTHING for each in case.broken}
    everywhere = {key for _, key in broken}
    for book in rulebook.everything():
        for requirement in book.requirements:
            if requirement.binds:
                assert requirement.key in everywhere, requirement.key


def test_every_rule_set_has_cases():
    assert {case.rules for case in EVERYTHING} == set(rulebook.names())


def test_a_case_that_says_otherwise_is_found_out():
    sound = next(case for case in EVERYTHING if case.rules == "no-sweep" and not case.broken)
    wrong = sound._replace(broken=(cases.Break("dropper_stock", "50 CFR 648.80(a)(9)(ii)(D)", ""),))
    assert cases.mismatches(wrong) == ["dropper_stock: found pass, to be broken"]
    for told in ("not_measured", "by_custom", "warned"):
        strange = sound._replace(**{told: frozenset({"dropper_sort"})})
        assert cases.mismatches(strange) == ["dropper_sort: there is no such rule"]
    other = next(case for case in EVERYTHING if case.broken and case.broken[0].by)
    first = other.broken[0]
    clause = other._replace(broken=(first._replace(clause="elsewhere"), *other.broken[1:]))
    assert "not by elsewhere" in cases.mismatches(clause)[0]
    by = other._replace(broken=(first._replace(by="99 ft"), *other.broken[1:]))
    assert "not by 99 ft" in cases.mismatches(by)[0]


def test_a_case_that_cannot_be_read_is_named(tmp_path):
    file = tmp_path / "odd.yaml"
    file.write_text("rules: no-sweep\nday: 2026-10-01\ncases:\n  - case: Odd\n    brokn: []\n")
    with pytest.raises(CaseError, match="odd.yaml, “Odd”: unknown entries brokn"):
        cases.read(file)
