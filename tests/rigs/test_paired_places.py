"""Places of a plan on fewer lines: each Placement on one line, and none that is not there."""

import pytest

from rigs.plan import default_choices, entry, paired, plan
from rigs.rules import rulebook
from rigs.words.units import FOOT

BOOK = rulebook.load("no-sweep", "1")


def planned(**entries):
    told = {"bosom": 16 * FOOT, "port_wing": 20 * FOOT, "headrope": 50 * FOOT} | entries
    rig = entry.rig(told)
    return plan(rig, BOOK, default_choices(rig, BOOK))


def lines(**entries):
    return [
        (each.where, each.places, round(each.from_center / FOOT), round(each.from_corner / FOOT))
        for each in paired(planned(**entries).placements)
    ]


def test_sides_that_are_alike_share_a_line():
    assert lines() == [
        ("center", 1, 0, 8),
        ("both corners", 2, 8, 0),
        ("both wings", 2, 16, 8),
        ("both wings", 2, 24, 16),
    ]


def test_sides_that_differ_do_not():
    assert lines(starboard_wing=24 * FOOT)[3:] == [
        ("both wings", 2, 24, 16),
        ("starboard wing end", 1, 32, 24),
    ]


@pytest.mark.parametrize("there", [[], [0.0], [8 * FOOT], [7 * FOOT, 8 * FOOT]])
def test_every_place_is_on_one_line(there):
    """Droppers on one side alone: what stays, moves or is new is said of each side apart."""
    made = planned(
        droppers="some" if there else "none",
        port_places=[],
        starboard_places=there,
        dropper_length=42 * 0.0254,
        dropper_chain=3 / 8 * 0.0254,
        dropper_bare=True,
    )
    found = paired(made.placements)
    assert sum(each.places for each in found) == len(made.placements)
    for source in {each.source for each in made.placements}:
        assert sum(each.places for each in found if each.source == source) == sum(
            each.source == source for each in made.placements
        )
    centers = sorted(round(each.from_center, 6) for each in made.placements)
    told = sorted(round(each.from_center, 6) for each in found for _ in range(each.places))
    assert told == pytest.approx(centers)
