from concurrent.futures import ThreadPoolExecutor
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
        ("    known: memory", "    basis: practice\n    known: trade", 14, "custom has no clause"),
        ("    why:", "    wherefore:", 16, "unknown key “wherefore”"),
        ("limit: 4 ft", "limit: 4 lb", 13, "wrong unit"),
        ("limit: 4 ft", "limit: 4", 13, "wrong unit"),
        ("limit: 4 ft", "limit: four ft", 13, "wrong unit"),
        ("at most\n    limit: 4 ft", "every\n    limit: 0 ft", 13, "more than nothing"),
        ("remedy: Add floats.", "remedy: Add {all}.", 17, "braces"),
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
            if requirement.by_custom:
                assert (requirement.clause, requirement.known) == ("", "trade")
            else:
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


LATER = (
    SMALL.replace('version: "1"', 'version: "2"')
    .replace("from: 2020-01-01", "from: 2020-10-01")
    .replace("  to: 2020-12-31\n", "")
)


@pytest.fixture
def more(monkeypatch):
    """A list of (where from, text) that the shelf holds besides its files."""
    pairs = []
    monkeypatch.setattr(rulebook, "_sources", [])
    rulebook.add_source(lambda: tuple(pairs))
    return pairs


def test_a_source_adds_to_the_shelf(more):
    files = rulebook.names()
    assert "small" not in files
    more.append(("a drawer", SMALL))
    assert rulebook.names() == tuple(sorted((*files, "small")))
    assert rulebook.load("small", "1") == rulebook.parse(SMALL, "small.yaml")
    more.append(("a drawer", LATER))
    assert [book.version for book in rulebook.versions("small")] == ["1", "2"]
    more.clear()
    assert rulebook.names() == files
    with pytest.raises(rulebook.RulebookError, match="no rule set called"):
        rulebook.versions("small")


def test_a_later_version_takes_over_from_its_first_day(more):
    more += [("a drawer", SMALL), ("a drawer", LATER)]
    assert rulebook.in_force("small", date(2020, 9, 30)).version == "1"
    assert rulebook.in_force("small", date(2020, 10, 1)).version == "2"
    assert rulebook.in_force("small", date(2031, 1, 1)).version == "2"
    names = [book.name for book in rulebook.everything(date(2020, 10, 1))]
    assert names == list(rulebook.names())
    assert rulebook.everything(date(1999, 1, 1)) == ()


def test_books_stay_the_same_objects_when_others_join(more):
    more.append(("a drawer", SMALL))
    before = rulebook.load("small"), rulebook.load("no-sweep")
    more.append(("a drawer", LATER))
    assert rulebook.load("small", "1") is before[0]
    assert rulebook.load("no-sweep") is before[1]


def test_a_version_may_not_stand_on_the_shelf_twice(more):
    more += [("a drawer", SMALL), ("another drawer", SMALL)]
    with pytest.raises(rulebook.RulebookError, match="another drawer: “small” has a version “1”"):
        rulebook.names()


def test_a_text_can_be_tried_before_it_is_on_the_shelf(more):
    more.append(("a drawer", SMALL))
    with rulebook.trying("a draft", LATER):
        assert rulebook.in_force("small", date(2020, 10, 1)).version == "2"
        with ThreadPoolExecutor() as other:
            assert other.submit(rulebook.load, "small").result().version == "1"
    assert rulebook.load("small").version == "1"


def test_what_lays_out_a_whole_rig_can_be_asked_for_a_day(more):
    text = LATER.replace("float_spacing", "dropper_spacing").replace("at most", "every")
    more += [("a drawer", SMALL), ("a drawer", text)]
    assert "small" in rulebook.gear_names()
    assert "small" in rulebook.gear_names(date(2020, 10, 1))
    assert "small" not in rulebook.gear_names(date(2020, 9, 30))
