from datetime import date

import pytest

from rigs import rulebook
from rigs.judge import judge

from .rig_factory import make_rig

SMALL = """\
name: small
version: "1"
title: A small rule set
summary: For tests.
citation: 50 CFR 648.80
effective:
  from: 2020-01-01
  to: 2020-12-31
requirements:
  - key: float_spacing
    title: Space between floats
    test: at most
    limit: 4 ft
    clause: 50 CFR 648.80(a)(9)(ii)(A)
    known: memory
    why: Even lift.
    remedy: Add floats.
"""


def test_reads_a_small_rule_set():
    book = rulebook.parse(SMALL, "small.yaml")
    requirement = book.requirement("float_spacing")
    assert requirement.limit == pytest.approx(1.2192)
    assert (requirement.limit_text, requirement.limit_metric_text) == ("4 ft", "121.9 cm")
    assert requirement.allowed_text == "at most 4 ft"


@pytest.mark.parametrize(
    ("old", "new", "line", "told"),
    [
        ("citation: 50 CFR 648.80\n", "", 1, "“citation” is missing"),
        ("citation: 50 CFR 648.80\n", "citation:\n", 1, "“citation” is missing"),
        ("    clause: 50 CFR 648.80(a)(9)(ii)(A)\n", "", 10, "“clause” is missing"),
        ("    why:", "    wherefore:", 16, "unknown key “wherefore”"),
        ("limit: 4 ft", "limit: 4 lb", 13, "wrong unit"),
        ("limit: 4 ft", "limit: 4", 13, "wrong unit"),
        ("limit: 4 ft", "limit: four ft", 13, "wrong unit"),
        ("test: at most", "test: about", 12, "not a test"),
        ("key: float_spacing", "key: hull_colour", 10, "measures “hull_colour”"),
        ("known: memory", "known: hearsay", 15, "not a way of knowing"),
        ("from: 2020-01-01", "from: last year", 7, "not a date"),
        ("title: A small", "title: A small\ntitle: A small", 4, "stands here twice"),
        ("name: small", "name: [small", 1, "not readable as YAML"),
    ],
)
def test_a_faulty_file_is_refused_with_its_line(old, new, line, told):
    assert old in SMALL
    with pytest.raises(rulebook.RulebookError) as refusal:
        rulebook.parse(SMALL.replace(old, new, 1), "small.yaml")
    assert told in str(refusal.value)
    # A YAML parser may only notice an open bracket further down.
    if "readable" not in told:
        assert f"small.yaml, line {line}:" in str(refusal.value)


def test_every_limit_on_file_has_its_clause_and_source():
    assert set(rulebook.gear_names()) == {"no-sweep", "chain-sweep", "grate"}
    for name in rulebook.names():
        book = rulebook.load(name)
        assert book.effective_from
        for requirement in book.requirements:
            assert requirement.clause.startswith("50 CFR 648.80(a)(")
            assert requirement.source
            assert requirement.why
            assert requirement.remedy_text


def test_a_rule_set_is_not_used_outside_its_dates():
    book = rulebook.parse(SMALL, "small.yaml")
    rig = make_rig(rulebook.load("no-sweep"))
    assert judge(rig, book, on=date(2020, 12, 31)).legal is True
    for day in (date(2019, 12, 31), date(2021, 1, 1)):
        with pytest.raises(ValueError, match="does not hold"):
            judge(rig, book, on=day)
    with pytest.raises(rulebook.RulebookError, match="No version"):
        rulebook.in_force("no-sweep", date(1999, 1, 1))
    assert rulebook.in_force("no-sweep", date(2025, 1, 1)) == rulebook.load("no-sweep")


def test_a_limit_can_hold_for_a_part_of_the_time():
    late = SMALL.replace("    known:", "    from: 2020-07-01\n    known:")
    book = rulebook.parse(late, "late.yaml")
    rig = make_rig(rulebook.load("no-sweep"))
    assert judge(rig, book, on=date(2020, 6, 30)).findings == ()
    assert len(judge(rig, book, on=date(2020, 7, 1)).findings) == 1


def test_unknown_names_and_versions():
    with pytest.raises(rulebook.RulebookError, match="no rule set called"):
        rulebook.load("nothing")
    with pytest.raises(rulebook.RulebookError, match="no version"):
        rulebook.load("no-sweep", "99")
    with pytest.raises(KeyError):
        rulebook.load("no-sweep").requirement("nothing")
