"""Where droppers and floats go; the intervals are those of 50 CFR 648.80(a)(9)(ii)."""

from dataclasses import replace

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from rigs.requirements import layout
from rigs.requirements.readings import PLAY
from rigs.rules import rulebook
from rigs.rules.judge import judge
from rigs.words.gear import Footrope, Headrope
from rigs.words.units import FOOT, INCH
from tests.rigs.rig_factory import footropes, gear_books, make_rig

BOOK = rulebook.load("no-sweep", "1")
DROPPER_KEYS = {"dropper_at_centre", "dropper_at_corners", "dropper_spacing"}


def in_feet(places):
    return [round(place / FOOT, 9) for place in places]


@pytest.mark.parametrize(
    ("wing", "expected"),
    [
        # Worked by hand: one every 8 ft out from the corner, the rest left at the wing end.
        (0, []),
        (7.99, []),
        (8, [8]),
        (15.5, [8]),
        (16, [8, 16]),
        (19, [8, 16]),
        (24, [8, 16, 24]),
    ],
)
def test_wing_positions(wing, expected):
    assert in_feet(layout.wing_positions(wing * FOOT, 8 * FOOT)) == expected


def test_remainder():
    assert layout.remainder(19 * FOOT, 8 * FOOT) == pytest.approx(3 * FOOT)
    assert layout.remainder(16 * FOOT, 8 * FOOT) == 0
    assert layout.remainder(5 * FOOT, 8 * FOOT) == pytest.approx(5 * FOOT)


def test_each_wing_is_laid_out_from_its_own_corner():
    places = layout.dropper_places(Footrope(12 * FOOT, 8 * FOOT, 19 * FOOT), BOOK)
    assert in_feet(p.position for p in places) == [-14, -6, 0, 6, 14, 22]
    assert [p.name for p in places] == [
        "port wing end",
        "port corner",
        "center",
        "starboard corner",
        "starboard wing, 8 ft from the corner",
        "starboard wing, 16 ft from the corner",
    ]


@pytest.mark.parametrize(
    ("headrope", "count"),
    # Worked by hand: gaps of at most 4 ft with a float at both ends.
    [(40, 11), (41, 12), (4, 2), (3, 2), (60, 16)],
)
def test_fewest_even_floats(headrope, count):
    places = layout.float_positions(headrope * FOOT, BOOK)
    assert len(places) == count
    assert in_feet((places[0], places[-1])) == [-headrope / 2, headrope / 2]


@given(st.floats(0.5, 80))
def test_one_float_fewer_would_leave_too_wide_a_gap(length):
    places = layout.float_positions(length, BOOK)
    gaps = [b - a for a, b in zip(places, places[1:], strict=False)]
    assert max(gaps) <= 4 * FOOT + 1e-9
    assert max(gaps) - min(gaps) < 1e-9
    if len(places) > 2:
        assert length / (len(places) - 2) > 4 * FOOT - 1e-8


@given(footropes, gear_books)
def test_a_proposed_layout_always_passes_the_judge(rope, book):
    assume(rope.length > 20 * FOOT)
    rig = make_rig(book, footrope=rope)
    failed = judge(rig, book).failed_keys
    assert not failed & (DROPPER_KEYS | {"float_spacing", "float_diameter"})


def owner(rope, position):
    """Return the requirement that a dropper at ``position`` is there to meet."""
    if abs(position) < 1e-9:
        return "dropper_at_centre"
    if abs(abs(position) - rope.bosom / 2) < 1e-9:
        return "dropper_at_corners"
    return "dropper_spacing"


@given(footropes, gear_books, st.data())
def test_removing_any_required_dropper_fails_its_clause(rope, book, data):
    assume(rope.length > 20 * FOOT)
    rig = make_rig(book, footrope=rope)
    index = data.draw(st.integers(0, len(rig.droppers) - 1))
    gone = rig.with_(droppers=rig.droppers[:index] + rig.droppers[index + 1 :])
    key = owner(rope, rig.droppers[index].position)
    finding = judge(gone, book).finding(key)
    assert finding.outcome == "fail"
    assert finding.clause == book.requirement(key).clause


@given(footropes, gear_books, st.data(), st.floats(0.001, 2.4))
def test_stretching_any_interval_past_the_limit_fails_its_clause(rope, book, data, stretch):
    assume(rope.length > 20 * FOOT)
    rig = make_rig(book, footrope=rope)
    on_wings = [
        i for i, d in enumerate(rig.droppers) if owner(rope, d.position) == "dropper_spacing"
    ]
    assume(on_wings)
    index = data.draw(st.sampled_from(on_wings))
    each = rig.droppers[index]
    outward = -1 if each.position < 0 else 1
    moved = replace(each, position=each.position + outward * stretch)
    # A hair beyond the rope's end still counts as hung at the end.
    past = max(rope.port_end - moved.position, moved.position - rope.starboard_end)
    assume(not 0 < past <= PLAY)
    parts = (*rig.droppers[:index], moved, *rig.droppers[index + 1 :])
    finding = judge(rig.with_(droppers=parts), book).finding("dropper_spacing")
    assert finding.outcome == "fail"
    assert finding.clause == book.requirement("dropper_spacing").clause


def test_a_full_interval_left_at_the_wing_end_is_one_dropper_short():
    rope = Footrope(16 * FOOT, 16 * FOOT, 16 * FOOT)
    rig = make_rig(BOOK, footrope=rope, headrope=Headrope(40 * FOOT))
    finding = judge(rig.with_(droppers=rig.droppers[:-1]), BOOK).finding("dropper_spacing")
    assert finding.outcome == "fail"
    assert finding.margin_text == "one dropper short"
    assert finding.places == ("starboard wing, from 8 ft out from the corner to the wing end",)


def test_droppers_are_all_of_one_make():
    hung = layout.droppers(Footrope(4, 3, 3), BOOK, 42 * INCH, 5 / 16 * INCH, count=2)
    assert {(d.length, d.diameter, d.count) for d in hung} == {(42 * INCH, 5 / 16 * INCH, 2)}
