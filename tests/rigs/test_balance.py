"""Lift against weight."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigs.physics import chain
from rigs.physics.balance import (
    FLOAT_SIZE,
    NO_CHAIN,
    NOT_MEASURED,
    balance,
    displaced,
    float_lift,
    wire_mass_per_metre,
)
from rigs.rules import rulebook
from rigs.words.gear import Dropper, Float, Headrope, Sweep
from rigs.words.units import FOOT, INCH, POUND
from tests.rigs.rig_factory import make_rig

BOOK = rulebook.load("no-sweep", "1")
SWEPT = rulebook.load("chain-sweep", "1")
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
