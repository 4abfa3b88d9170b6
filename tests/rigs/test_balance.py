"""Lift against weight, and what cutting the sweep takes off."""

from dataclasses import replace
from math import pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigs import chain, rulebook
from rigs.balance import (
    FLOAT_SIZE,
    NO_CHAIN,
    NOT_MEASURED,
    balance,
    cut_sweep,
    displaced,
    float_lift,
    wire_mass_per_metre,
)
from rigs.changes import without_sweep
from rigs.gear import Dropper, Float, Headrope, Sweep
from rigs.judge import judge
from rigs.units import FOOT, INCH, POUND

from .rig_factory import footropes, make_rig

BOOK = rulebook.load("no-sweep")
SWEPT = rulebook.load("chain-sweep")
IN_WATER = 1 - 1025 / 7850


def test_an_eight_inch_float():
    """Displaces 4.39 L, lifts 2.9 to 3.1 kg: FAO Fisherman's Workbook, Prado 1990 [memory]."""
    assert displaced(8 * INCH) * 1000 == pytest.approx(4.39, abs=0.005)
    assert float_lift(8 * INCH) == pytest.approx((2.9, 3.0, 3.1))
    # Less than the sea water it displaces weighs, or the shell would weigh nothing.
    assert float_lift(8 * INCH).most < 1025 * displaced(8 * INCH)


@given(st.floats(0.05, 0.5))
def test_floats_scale_by_volume(diameter):
    expected = 3.0 * (diameter / FLOAT_SIZE) ** 3
    assert float_lift(diameter).likely == pytest.approx(expected)


@pytest.mark.parametrize("size", [0, -0.1, float("nan")])
def test_a_float_must_have_a_size(size):
    with pytest.raises(ValueError, match="must have a size"):
        float_lift(size)


def test_half_inch_wire():
    """0.42 lb/ft for 1/2 in, 6 x 19 fibre core: wire rope makers' tables [memory]."""
    assert wire_mass_per_metre(INCH / 2) == pytest.approx(0.42 * POUND / FOOT)


def test_the_table_by_hand():
    """52 ft of footrope, 32 ft of headrope, nine floats, seven droppers of 42 in, 3/8 in."""
    found = balance(make_rig(BOOK))
    assert found.complete
    assert found.of("floats").likely == pytest.approx(9 * 3.0)
    per_metre = chain.mass_per_metre(chain.STOCKS["3/8 in"])
    assert found.of("droppers").likely == pytest.approx(7 * 42 * INCH * per_metre * IN_WATER)
    rope = 0.42 * POUND * IN_WATER
    assert found.of("footrope").likely == pytest.approx(52 * rope)
    assert found.of("headrope").likely == pytest.approx(32 * rope)
    # Ten fathoms of leg, half of it on the net; wire weighs by its diameter squared.
    assert found.of("port top leg").likely == pytest.approx(30 * rope)
    assert found.of("starboard bottom leg").likely == pytest.approx(30 * rope * (5 / 4) ** 2)
    assert found.of("sweep").likely == 0
    assert found.net.likely == pytest.approx(found.lift.likely - found.weight.likely)
    assert found.net.least < found.net.likely < found.net.most
    assert all(entry.basis for entry in found.entries)


def test_other_floats_say_that_they_are_scaled():
    rig = make_rig(BOOK)
    small, big = replace(rig.floats[0]), replace(rig.floats[1], diameter=10 * INCH)
    lines = [e for e in balance(rig.with_(floats=(small, big))).entries if e.part == "floats"]
    assert ["scaled" in line.basis for line in lines] == [False, True]


def test_doubled_chain_weighs_double():
    rig = make_rig(BOOK)
    double = rig.with_(droppers=tuple(replace(d, count=2) for d in rig.droppers))
    one, two = balance(rig).of("droppers").likely, balance(double).of("droppers").likely
    assert two == pytest.approx(2 * one)


@pytest.mark.parametrize(
    ("changes", "part"),
    [
        ({"floats": None}, "floats"),
        ({"floats": (Float(0, None),)}, "floats"),
        ({"droppers": None}, "droppers"),
        ({"droppers": (Dropper(0, None, 0.009),)}, "droppers"),
        ({"headrope": Headrope(None), "floats": ()}, "headrope"),
        ({"sweep": Sweep(None, 9, 0.008)}, "sweep"),
    ],
)
def test_what_was_not_measured_is_not_weighed(changes, part):
    found = balance(make_rig(BOOK).with_(**changes))
    assert not found.complete
    assert [(e.part, e.basis) for e in found.entries if e.kilograms is None] == [
        (part, NOT_MEASURED)
    ]
    assert found.of(part).likely == 0


def test_chain_of_an_unknown_size_is_not_weighed():
    found = balance(make_rig(BOOK).with_(droppers=(Dropper(0, 1.0, 0.02),)))
    assert [e.basis for e in found.entries if e.kilograms is None] == [NO_CHAIN]


@given(footropes)
def test_cutting_the_sweep_takes_off_its_weight(rope):
    rig = make_rig(SWEPT, footrope=rope, headrope=Headrope(10 * FOOT))
    found = cut_sweep(rig, BOOK)
    assert found.rig == without_sweep(rig)
    assert found.off == pytest.approx(found.before.weight.likely - found.after.weight.likely)
    assert found.off == pytest.approx(found.on_deck * IN_WATER)
    metres = rig.sweep.port + rig.sweep.starboard
    bar = 0.008
    link = 2 * (1.29 - 0.44) * INCH + pi * (0.44 * INCH + bar)
    per_metre = 7850 * pi * bar**2 / 4 * link / (1.29 * INCH)
    assert found.on_deck == pytest.approx(metres * per_metre)


@given(footropes)
def test_every_way_to_make_up_for_it_keeps_the_rules(rope):
    rig = make_rig(SWEPT, footrope=rope, headrope=Headrope(10 * FOOT))
    found = cut_sweep(rig, BOOK)
    kept = judge(found.rig, BOOK).failed_keys
    for way in found.make_up:
        assert judge(way.rig, BOOK).failed_keys <= kept
        after = balance(way.rig)
        gain = after.of("droppers").likely - found.after.of("droppers").likely
        assert way.kilograms == pytest.approx(gain)
        assert way.enough == (gain >= found.off - 1e-9)


def test_the_ways_by_hand():
    """59 ft of 5/16 in sweep is 17 droppers of 42 in of the same chain: 708 / 42 = 16.9."""
    found = cut_sweep(make_rig(SWEPT), BOOK)
    more, double, heavier = found.make_up
    assert (more.pieces, more.enough) == (17, True)
    assert (double.pieces, double.enough) == (7, False)
    assert double.kilograms == pytest.approx(found.off * 7 * 42 / 708)
    assert "3/8 in" in heavier.text
    assert not heavier.enough


def test_heavier_chain_is_not_offered_where_the_rule_forbids_it():
    texts = [way.text for way in cut_sweep(make_rig(SWEPT), SWEPT).make_up]
    assert texts
    assert not any("3/8" in text for text in texts)


def test_a_short_light_rope_with_a_heavy_sweep_gets_no_curtain_of_chain():
    rig = make_rig(SWEPT)
    heavy = rig.with_(sweep=replace(rig.sweep, port=40.0, starboard=40.0))
    assert not any("more dropper" in way.text for way in cut_sweep(heavy, BOOK).make_up)


def test_without_a_sweep_or_its_measures():
    with pytest.raises(ValueError, match="no sweep"):
        cut_sweep(make_rig(BOOK), BOOK)
    rig = make_rig(SWEPT)
    unknown = cut_sweep(rig.with_(sweep=replace(rig.sweep, diameter=None)), BOOK)
    assert (unknown.off, unknown.on_deck, unknown.make_up) == (None, None, ())
    unmeasured = cut_sweep(rig.with_(droppers=None), BOOK)
    assert unmeasured.off > 0
    assert unmeasured.make_up == ()
