"""
Limits that change on a day. All figures and clauses are invented; no regulation has them.
"""

from datetime import date

import pytest

from rigs.rules import book_reader, rulebook, shelf
from rigs.rules.changes import changed_rules, head_differences
from rigs.rules.judge import judge
from rigs.rules.text import write
from rigs.words.units import FOOT
from tests.rigs.rig_factory import make_rig

LATER = "{from: 2027-03-01, limit: 3 ft, metric: 0.91 m, clause: Made-up rule 2, known: read}"
LAST = "{from: 2028-01-01, limit: 5 ft, clause: Made-up rule 3, known: memory}"
CHANGING = f"""\
name: invented
version: "1"
title: Invented rules
summary: For tests.
citation: Made-up rules
effective:
  from: 2020-01-01
requirements:
  - key: float_spacing
    title: Space between floats
    test: at most
    limit: 4 ft
    metric: 122 cm
    clause: Made-up rule 1
    known: memory
    caution: A notice can change it.
    later:
      - {LATER}
      - {LAST}
    why: Even lift.
    remedy: Keep them {{allowed}} apart.
  - key: float_diameter
    title: Float size
    test: at least
    limit: 8 in
    clause: Made-up rule 1
    known: memory
    why: Lift.
    remedy: Use larger ones.
"""
EVE, DAY = date(2027, 2, 28), date(2027, 3, 1)


@pytest.fixture
def drawer(monkeypatch):
    """A list of (where from, text) that the shelf holds besides its files."""
    pairs = []
    monkeypatch.setattr(shelf, "_sources", [])
    rulebook.add_source(lambda: tuple(pairs))
    return pairs


@pytest.fixture
def changing(drawer):
    drawer.append(("invented.yaml", CHANGING))


def test_each_value_makes_a_version_from_its_day(changing):
    found = rulebook.versions("invented")
    assert [(book.version, book.effective_from) for book in found] == [
        ("1", date(2020, 1, 1)),
        ("1.2027-03-01", DAY),
        ("1.2028-01-01", date(2028, 1, 1)),
    ]
    limits = [book.requirement("float_spacing") for book in found]
    assert [each.limit / FOOT for each in limits] == pytest.approx([4, 3, 5])
    assert [each.clause for each in limits] == [f"Made-up rule {n}" for n in (1, 2, 3)]
    assert [each.known for each in limits] == ["memory", "read", "memory"]
    # The figure printed beside a value is its own; what is said with the limit goes on.
    assert [each.metric and each.metric.text for each in limits] == ["122 cm", "0.91 m", None]
    assert {each.caution for each in limits} == {"A notice can change it."}
    other = {book.requirement("float_diameter") for book in found}
    assert len(other) == 1


def test_the_version_of_a_day_is_the_one_with_its_value(changing):
    assert rulebook.in_force("invented", EVE).version == "1"
    assert rulebook.in_force("invented", DAY).version == "1.2027-03-01"
    assert rulebook.load("invented").version == "1.2028-01-01"
    # An answer keeps its version, and with it the figure of its day.
    assert rulebook.load("invented", "1").requirement("float_spacing").limit_text == "4 ft"


def test_a_rig_is_judged_by_the_value_of_its_day(changing):
    rig = make_rig(rulebook.load("no-sweep", "1"))  # its floats are 4 ft apart
    for day, failed in ((EVE, set()), (DAY, {"float_spacing"}), (date(2028, 1, 1), set())):
        assert judge(rig, rulebook.in_force("invented", day), on=day).failed_keys == failed


def test_what_held_before_is_the_same_with_or_without_a_later_value(drawer):
    lines = CHANGING.splitlines(keepends=True)
    plain = [line for line in lines if "later:" not in line and "{from:" not in line]
    drawer.append(("invented.yaml", "".join(plain)))
    (before,) = rulebook.versions("invented")
    assert before == rulebook.parse(CHANGING, "invented.yaml")


def test_what_differs_is_told_as_between_any_two_versions(changing):
    old, new, _ = rulebook.versions("invented")
    (change,) = changed_rules(old, new)
    assert (change.before, change.now) == ("at most 4 ft", "at most 3 ft")
    assert [each.what for each in head_differences(old, new)] == ["Version", "Takes effect"]


def test_a_version_written_out_is_complete_in_itself(changing):
    for book in rulebook.versions("invented"):
        text = write(book)
        assert rulebook.parse_versions(text, "written") == (book,)


def test_rules_with_a_last_day_join_day_to_day(drawer):
    ended = CHANGING.replace("  from: 2020-01-01", "  from: 2020-01-01\n  to: 2029-12-31")
    drawer.append(("invented.yaml", ended))
    assert [book.effective_to for book in rulebook.versions("invented")] == [
        EVE,
        date(2027, 12, 31),
        date(2029, 12, 31),
    ]
    assert rulebook.find_in_force("invented", date(2030, 1, 1)) is None


def test_a_later_file_takes_over_whatever_the_earlier_one_had_to_come(drawer):
    second = (
        CHANGING.replace('version: "1"', 'version: "2"')
        .replace("from: 2020-01-01", "from: 2027-06-01")
        .replace(f"      - {LATER}\n", "")
    )
    drawer += [("first.yaml", CHANGING), ("second.yaml", second)]
    assert [book.version for book in rulebook.versions("invented")] == [
        "1",
        "1.2027-03-01",
        "2",
        "2.2028-01-01",
    ]
    assert rulebook.in_force("invented", date(2027, 12, 31)).version == "2"


SHARED = f"""\
requirements:
{CHANGING.partition("requirements:")[2].partition("  - key: float_diameter")[0]}"""
ALONE = """\
name: {name}
version: "1"
title: Invented rules
summary: For tests.
citation: Made-up rules
effective:
  from: {first}
include: [{part}]
requirements:
  - key: float_diameter
    title: Float size
    test: at least
    limit: 8 in
    clause: Made-up rule 1
    known: memory
    why: Lift.
    remedy: Use larger ones.
"""


@pytest.fixture
def sharing(drawer, monkeypatch, tmp_path):
    """Three invented rule sets that share the spacing of floats; the last begins after a change."""
    (tmp_path / "shared").mkdir()
    (tmp_path / "shared" / "spacing.yaml").write_text(SHARED, "utf-8")
    monkeypatch.setattr(book_reader, "FOLDER", tmp_path)
    taken = "{part: spacing, under: Made-up law (b)}"
    for name, first, part in (
        ("one", "2020-01-01", "spacing"),
        ("two", "2021-01-01", taken),
        ("late", "2027-06-01", "spacing"),
    ):
        drawer.append((f"{name}.yaml", ALONE.format(name=name, first=first, part=part)))


def test_a_shared_limit_is_changed_once_for_all_that_include_it(sharing):
    for name in ("one", "two"):
        before, after = (rulebook.in_force(name, day) for day in (EVE, DAY))
        assert (before.version, after.version) == ("1", "1.2027-03-01")
        assert before.requirement("float_spacing").limit_text == "4 ft"
        assert after.requirement("float_spacing").limit_text == "3 ft"
    taken = rulebook.in_force("two", DAY).requirement("float_spacing")
    assert taken.clause == "Made-up law (b), which takes over Made-up rule 2"


def test_rules_that_begin_after_a_change_have_the_new_value_from_the_start(sharing):
    first, second = rulebook.versions("late")
    assert (first.version, second.version) == ("1", "1.2028-01-01")
    assert first.requirement("float_spacing").limit_text == "3 ft"


@pytest.mark.parametrize(
    ("old", "new", "line", "told"),
    [
        (LATER, LAST, 19, "January 1, 2028 is not after January 1, 2028"),
        (LAST, LAST.replace("2028", "2026"), 19, "put the values in order"),
        ("from: 2027-03-01", "from: 2020-01-01", 18, "is not after January 1, 2020"),
        ("from: 2027-03-01", "from: soon", 18, "not a date"),
        ("from: 2027-03-01, ", "", 18, "“from” is missing"),
        ("clause: Made-up rule 2, ", "", 18, "“clause” is missing"),
        (", known: read", "", 18, "“known” is missing"),
        ("known: read", "known: hearsay", 18, "not a way of knowing"),
        ("limit: 3 ft", "limit: 3 lb", 18, "wrong unit"),
        ("metric: 0.91 m", "metric: 1.22 m", 18, "not the limit in other units"),
        ("limit: 5 ft", "limit: 0 ft", 19, "sets no limit"),
        ("limit: 5 ft", "why: Lift, limit: 5 ft", 19, "unknown key “why”"),
        (
            "  from: 2020-01-01",
            "  from: 2020-01-01\n  to: 2027-12-31",
            20,
            "January 1, 2028 comes after the last day, December 31, 2027: take an earlier day",
        ),
        ("    why: Even", "    to: 2027-06-01\n    why: Even", 19, "comes after the last day"),
        ("    why: Even", "    from: 2027-06-01\n    why: Even", 18, "is not after June 1, 2027"),
    ],
)
def test_a_faulty_value_is_refused_with_its_line(old, new, line, told):
    assert old in CHANGING
    with pytest.raises(rulebook.RulebookError, match="invented.yaml") as refusal:
        rulebook.parse(CHANGING.replace(old, new, 1), "invented.yaml")
    assert told in str(refusal.value)
    assert refusal.value.line == line


def test_a_yes_or_no_rule_has_no_later_value():
    text = CHANGING.replace("float_spacing", "no_sweep").replace("at most", "must be")
    text = text.replace("limit: 4 ft\n    metric: 122 cm", "limit: true")
    words = "{met: none, broken: one, asks: there may be none}"
    text = text.replace("    why: Even", f"    words: {words}\n    why: Even")
    with pytest.raises(rulebook.RulebookError, match="has one value"):
        rulebook.parse(text, "invented.yaml")
