"""What differs between two versions, in words."""

from dataclasses import replace
from datetime import date

from rigs.rules import rulebook
from rigs.rules.changes import (
    ADDED,
    CHANGED,
    REMOVED,
    REWORDED,
    changed_rules,
    head_differences,
    rule_differences,
)
from rigs.words.units import FOOT, INCH


def changed(book, key, **changes):
    """Return ``book`` with other values in the requirement ``key``."""
    rules = tuple(
        replace(rule, **changes) if rule.key == key else rule for rule in book.requirements
    )
    return replace(book, requirements=rules)


def without(book, key):
    rules = tuple(rule for rule in book.requirements if rule.key != key)
    return replace(book, requirements=rules)


OLD = rulebook.load("no-sweep", "1")


def test_the_same_rule_set_has_no_differences():
    assert rule_differences(OLD, OLD) == head_differences(OLD, OLD) == ()


def test_a_changed_limit_is_told_as_on_deck():
    ((change, sort, (row,)),) = rule_differences(
        OLD, changed(OLD, "dropper_spacing", limit=7 * FOOT)
    )
    assert (change.key, sort) == ("dropper_spacing", CHANGED)
    assert row == ("Allowed", ("one every 8 ft",), ("one every 7 ft",))


def test_limits_that_print_alike_are_told_to_the_last_digit():
    new = changed(OLD, "dropper_length", limit=42.01 * INCH)
    ((_, _, (row,)),) = rule_differences(OLD, new)
    assert row.before == ("at least 42 in",)
    assert row.after == ("at least 42.01 in",)


def test_a_reworded_rule_has_not_changed():
    new = changed(OLD, "dropper_spacing", why="So that it hangs level.", clause="50 CFR 1")
    (found,) = rule_differences(OLD, new)
    assert found.sort == REWORDED
    assert [row.what for row in found.rows] == ["Clause", "Why it matters on the net"]
    assert changed_rules(OLD, new) == ()


def test_a_rule_added_or_taken_out():
    same = OLD.requirement("legs_equal").allowed_text
    new = without(OLD, "legs_equal")
    (gone,) = rule_differences(OLD, new)
    (back,) = rule_differences(new, OLD)
    assert (gone.sort, back.sort) == (REMOVED, ADDED)
    assert gone.rows[0] == ("Allowed", (same,), ())
    assert back.rows[0] == ("Allowed", (), (same,))
    assert {row.what for row in back.rows} >= {
        "Clause",
        "Why it matters on the net",
        "How to fix it",
        "How it is known",
    }


def test_of_an_area_only_the_corners_that_moved_are_told():
    book = rulebook.load("small-mesh-2", "1")
    (area,) = book.requirement("area").limit
    name, latitude, longitude = area.corners[1]
    corners = (area.corners[0], (name, latitude + 0.5, longitude), *area.corners[2:])
    new = changed(book, "area", limit=(replace(area, corners=corners),))
    ((_, sort, (row,)),) = rule_differences(book, new)
    assert sort == CHANGED
    # The corner on file, from the regulation as read: SM14, 43 10.1, 69 43.3.
    assert row.before == ("small mesh area 2: SM14, 43 10.1, 69 43.3",)
    assert row.after == ("small mesh area 2: SM14, 43 40.1, 69 43.3",)


def test_names_and_seasons_are_told_one_by_one():
    book = rulebook.load("whiting", "1")
    kept = book.requirement("kept_species").limit
    new = changed(book, "kept_species", limit=(*kept[1:], "sea robin"))
    ((_, _, (row,)),) = rule_differences(book, new)
    assert (row.before, row.after) == (kept[:1], ("sea robin",))
    season = book.requirement("season").limit[0]
    new = changed(book, "season", limit=(replace(season, first=(8, 15)),))
    ((_, _, (row,)),) = rule_differences(book, new)
    assert row.after == ("August 15 to December 31",)


def test_the_vessels_and_days_that_a_rule_holds_for():
    book = rulebook.load("whiting", "1")
    new = changed(
        book,
        "mesh_count_long",
        vessel_over=50 * FOOT,
        vessel_metric=None,
        effective_to=date(2030, 1, 31),
    )
    ((_, sort, rows),) = rule_differences(book, new)
    assert sort == CHANGED
    assert rows == (
        ("Holds for vessels", ("over 60 ft (18.3 m)",), ("over 50 ft",)),
        ("To", (), ("January 31, 2030",)),
    )


def test_the_head_of_the_rule_set():
    new = replace(
        OLD, version="2", effective_from=date(2027, 1, 1), allowances=(("length", INCH / 2),)
    )
    assert head_differences(OLD, new) == (
        ("Version", ("1",), ("2",)),
        ("Takes effect", ("January 1, 2020",), ("January 1, 2027",)),
        ("Measuring allowance, length", ("0 in",), ("1/2 in",)),
        ("Measuring allowance, diameter", ("0 in",), ()),
    )


def test_an_allowance_changes_every_rule_that_it_bears_on():
    slack = OLD.requirement("dropper_length").slack + INCH
    found = rule_differences(OLD, changed(OLD, "dropper_length", slack=slack))
    assert [(each.change.key, each.sort) for each in found] == [("dropper_length", CHANGED)]
    assert found[0].rows == (("Measuring allowance", ("0 in",), ("1 in",)),)
