"""Where rule sets are taught. The rule set in these tests is invented."""

import pytest

from rigs.rules import rulebook
from rigs.rules.text import write

TAUGHT = "taught: {from: 2, courses: [officer], exercises: {splice: 3, coil: 1}}"
INVENTED = f"""\
name: invented
version: "1"
title: Invented rules
summary: For tests.
citation: Made-up rules
effective:
  from: 2020-01-01
{TAUGHT}
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
THREE = {"no-sweep", "chain-sweep", "grate"}


def known(names):
    """Return those of ``names`` that exercises have always drawn from, in their order."""
    return [name for name in names if name in THREE]


@pytest.mark.parametrize(
    ("exercise", "levels"),
    [
        # As exercises were set before rule sets said it themselves.
        ("judge-rig", ["no-sweep", "no-sweep chain-sweep", "no-sweep chain-sweep grate"]),
        ("space-droppers", ["no-sweep", "no-sweep grate", "no-sweep grate chain-sweep"]),
        ("pick-chain", ["no-sweep chain-sweep", *["no-sweep chain-sweep grate"] * 2]),
    ],
)
def test_a_seed_finds_the_rule_sets_in_the_order_it_always_did(exercise, levels):
    found = [" ".join(known(rulebook.taught(level, exercise))) for level in rulebook.LEVELS]
    assert found == levels


def test_whose_course_a_rule_set_stands_on():
    assert known(rulebook.on_course("trainee")) == ["no-sweep", "grate"]
    assert known(rulebook.on_course("officer")) == ["no-sweep", "chain-sweep", "grate"]
    assert rulebook.on_course("staff") == ()


def test_a_rule_set_says_for_itself_where_it_is_taught():
    before = [rulebook.taught(level) for level in rulebook.LEVELS]
    with rulebook.trying("invented.yaml", INVENTED):
        assert "invented" not in rulebook.taught(1)
        assert "invented" in rulebook.taught(2)
        assert "invented" in rulebook.taught(1, "coil")
        assert "invented" not in rulebook.taught(2, "splice")
        assert "invented" in rulebook.on_course("officer")
        assert "invented" not in rulebook.on_course("trainee")
    assert [rulebook.taught(level) for level in rulebook.LEVELS] == before
    with rulebook.trying("invented.yaml", INVENTED.replace(f"{TAUGHT}\n", "")):
        assert "invented" in rulebook.names()
        assert [rulebook.taught(level) for level in rulebook.LEVELS] == before


def test_it_is_written_out_again():
    book = rulebook.parse(INVENTED, "invented.yaml")
    assert rulebook.parse(write(book), "written") == book


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ("from: 2,", "from: 4,", "“4” is not a level: use one of 1, 2, 3"),
        ("from: 2, ", "", "“from” is missing"),
        ("[officer]", "[captain]", "“captain” is not a course: use one of trainee, officer"),
        ("splice: 3", "splice: often", "“often” is not a level"),
        ("splice: 3", "coil: 3", "“coil” is here twice"),
        ("courses:", "course:", "unknown key “course”"),
    ],
)
def test_what_is_not_understood_is_refused_with_its_line(old, new, told):
    with pytest.raises(rulebook.RulebookError, match=told) as refusal:
        rulebook.parse(INVENTED.replace(old, new, 1), "invented.yaml")
    assert refusal.value.line == 8
