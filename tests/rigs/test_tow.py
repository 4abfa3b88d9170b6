"""The hanging dropper: known limits, an independent integration, and what must never happen."""

from dataclasses import replace
from math import atan2, cos, degrees, hypot, pi, sin, sqrt

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad, solve_ivp
from scipy.optimize import brentq

from rigs.physics import chain
from rigs.physics.chain import ONE_HEAVY
from rigs.physics.tow import (
    BOTTOMS,
    FRICTION,
    NORMAL_DRAG,
    TANGENTIAL_DRAG,
    UNKNOWN,
    ChainLine,
    Known,
    card,
    critical_angle,
    hang,
    height_report,
    line,
)
from rigs.physics.tow.report import SPEED_SPREAD
from rigs.words.units import INCH

THREE_EIGHTHS = chain.STOCKS["3/8 in"]
FIVE_SIXTEENTHS = chain.STOCKS["5/16 in"]
LINE = line(THREE_EIGHTHS)

lines = st.builds(ChainLine, st.floats(2, 60), st.floats(0.004, 0.02))
lengths = st.floats(0.2, 3)
speeds = st.floats(0, 3)
shares = st.floats(0, 1)
frictions = st.floats(0, 1)


def integrate(chain_line, length, speed, shine, friction):
    """
    Return (height, aft, pull) by integrating forces, from the touchdown up.

    Another way than the module's: the pull is kept as a vector, the drag is worked out
    from the stream's parts across and along the chain, and arc length is the variable.
    """
    pressure = 1025 * chain_line.diameter / 2

    def slopes(_, state):
        aft_pull, down_pull = state[2], state[3]
        size = hypot(aft_pull, down_pull)
        along = np.array([aft_pull, down_pull]) / size  # unit vector down the chain
        stream = np.array([speed, 0.0])
        part = stream @ along
        slip = part * along
        square = stream - slip
        force = pressure * (
            NORMAL_DRAG * hypot(*square) * square + TANGENTIAL_DRAG * abs(part) * slip
        )
        force += np.array([0.0, chain_line.weight])
        # Going up: the chain climbs against ``along``, and its pull takes up the force.
        return [-along[0], along[1], force[0], force[1]]

    start = [0.0, 0.0, friction * chain_line.weight * shine, 0.0]
    run = solve_ivp(slopes, (0, length - shine), start, method="LSODA", rtol=1e-10, atol=1e-12)
    assert run.success
    aft, height, aft_pull, down_pull = run.y[:, -1]
    return height, -aft, (aft_pull, down_pull)


@given(lines, lengths, st.floats(0.2, 2.5), st.floats(0.02, 0.98), st.floats(0.05, 1))
@settings(max_examples=60)
def test_agrees_with_an_independent_integration(chain_line, length, speed, share, friction):
    shine = share * length
    ours = hang(chain_line, length, speed, shine, friction)
    height, aft, pull = integrate(chain_line, length, speed, shine, friction)
    assert ours.height == pytest.approx(height, rel=1e-5, abs=1e-8)
    assert ours.aft == pytest.approx(aft, rel=1e-5, abs=1e-8)
    assert ours.tension == pytest.approx(hypot(*pull), rel=1e-5)
    assert ours.top_angle == pytest.approx(atan2(*pull), abs=1e-5)


@given(lines, lengths, st.floats(0.1, 2.5), st.floats(0.05, 0.95))
@settings(max_examples=40)
def test_forces_on_the_whole_free_part_balance(chain_line, length, speed, share):
    """Pull at the top = pull at touchdown + weight + drag summed over the drawn shape."""
    found = hang(chain_line, length, speed, share * length)
    free = found.points[:-1]
    pressure = 1025 * chain_line.diameter * speed**2 / 2
    aft, down = found.touchdown_tension, 0.0
    for (x1, z1), (x2, z2) in zip(free, free[1:], strict=False):
        piece = hypot(x2 - x1, z1 - z2)
        a = atan2(x2 - x1, z1 - z2)
        across, along = (
            pressure * NORMAL_DRAG * cos(a) ** 2,
            pressure * TANGENTIAL_DRAG * sin(a) ** 2,
        )
        aft += piece * (across * cos(a) + along * sin(a))
        down += piece * (chain_line.weight - across * sin(a) + along * cos(a))
    # The drawn shape is made of straight pieces, hence the tolerance.
    assert found.tension * sin(found.top_angle) == pytest.approx(aft, rel=0.01)
    assert found.load == pytest.approx(down, rel=0.01, abs=0.01 * found.tension)


@given(lines, lengths, shares, frictions)
def test_without_current_the_rule_of_thumb_is_exact(chain_line, length, share, friction):
    shine = share * length
    found = hang(chain_line, length, 0.0, shine, friction)
    assert found.height == length - shine
    assert found.aft == 0
    assert found.tension == pytest.approx(chain_line.weight * (length - shine))


@given(lines, lengths, shares, st.floats(0.05, 1))
def test_a_crawl_gives_the_plain_catenary(chain_line, length, share, friction):
    """With drag vanishing the chain is a catenary: height = hypot(a, s) - a, a = pull / weight."""
    shine = share * length
    a = friction * shine
    free = length - shine
    found = hang(chain_line, length, 1e-7, shine, friction)
    # The catenary written without the difference of two near numbers.
    catenary = free**2 / (hypot(a, free) + a) if free else 0
    assert found.height == pytest.approx(catenary, rel=1e-6, abs=1e-9)


def test_the_worked_value_of_the_critical_angle():
    """One 3/8 in Grade 30 dropper of 42 in, free at 1.5 m/s: 47 degrees, 29 in (own arithmetic)."""
    found = hang(LINE, 42 * INCH, 1.5)
    assert found.top_degrees == pytest.approx(47, abs=1)
    assert found.height / INCH == pytest.approx(29, abs=0.7)
    assert not found.touches
    # By the balance itself, solved here: w sin a = 1/2 rho Cn d (V cos a)^2.
    weight, drag = LINE.weight, 1025 / 2 * 2.4 * LINE.diameter * 1.5**2
    angle = brentq(lambda a: weight * sin(a) - drag * cos(a) ** 2, 0, pi / 2)
    assert found.top_angle == pytest.approx(angle)
    assert found.height == pytest.approx(42 * INCH * cos(angle))


@given(lines, lengths, speeds)
def test_a_free_chain_hangs_straight_at_the_critical_angle(chain_line, length, speed):
    found = hang(chain_line, length, speed)
    a = found.critical_angle
    weight = chain_line.weight * sin(a)
    drag = 1025 / 2 * NORMAL_DRAG * chain_line.diameter * (speed * cos(a)) ** 2
    assert weight == pytest.approx(drag, rel=1e-9, abs=1e-12)
    assert found.height == pytest.approx(length * cos(a))
    assert found.top_angle == a


@given(lines, st.floats(0.3, 2.5))
def test_a_long_chain_tends_to_the_critical_angle(chain_line, speed):
    short, middle, long = (hang(chain_line, 0.3 + free, speed, 0.3) for free in (0.5, 5, 50))
    excess = [found.top_angle - found.critical_angle for found in (short, middle, long)]
    assert excess[0] > excess[1] > excess[2] >= 0
    assert degrees(excess[2]) < 1


def test_fridmans_balance_for_a_free_line():
    """
    Fridman, FAO Fishing Manuals, Calculations for fishing gear designs (1986), 5.22 and 5.23.

    Normal drag 1/2 rho Cn d (V cos a)^2 against the weight's part w sin a, a from the
    vertical, Cn = 1.4 for plain line [read]. The speed that balances a given angle is
    put in, and the angle must come back.
    """
    weight, diameter = 1.2, 0.012
    for angle in np.radians([5, 20, 45, 70, 85]):
        speed = sqrt(weight * sin(angle) / (0.5 * 1025 * 1.4 * diameter)) / cos(angle)
        rope = ChainLine(weight, diameter, normal=1.4)
        assert critical_angle(rope, speed) == pytest.approx(angle)
        assert hang(rope, 2.0, speed).top_angle == pytest.approx(angle)


@given(lines, lengths, st.floats(0.05, 0.95), st.floats(0, 2.5), st.floats(0.01, 0.5))
def test_height_falls_with_speed(chain_line, length, share, speed, more):
    slow = hang(chain_line, length, speed, share * length)
    fast = hang(chain_line, length, speed + more, share * length)
    assert fast.height < slow.height


@given(lines, lengths, speeds, st.floats(0, 0.95), st.floats(0.001, 0.05))
def test_height_falls_with_shine(chain_line, length, speed, share, more):
    less = hang(chain_line, length, speed, share * length)
    more = hang(chain_line, length, speed, (share + more) * length)
    assert more.height < less.height


@given(lines, lengths, st.floats(0.01, 2.5), st.floats(0.05, 0.95), st.floats(0, 0.9))
def test_height_falls_with_friction(chain_line, length, speed, share, friction):
    smooth = hang(chain_line, length, speed, share * length, friction)
    rough = hang(chain_line, length, speed, share * length, friction + 0.1)
    assert rough.height < smooth.height
    assert rough.height <= hang(chain_line, length, speed, 0).height


@given(lines, lengths, speeds, shares, frictions)
def test_nothing_unphysical_comes_out(chain_line, length, speed, share, friction):
    shine = min(length, share * length)
    found = hang(chain_line, length, speed, shine, friction)
    free = length - shine
    assert 0 <= found.height <= free * (1 + 1e-12)
    assert hypot(found.height, found.aft) <= free * (1 + 1e-9)
    assert 0 <= found.critical_angle <= found.top_angle + 1e-12
    assert found.top_angle <= pi / 2 + 1e-8
    assert found.tension >= found.touchdown_tension >= 0
    drawn = sum(
        hypot(x2 - x1, z2 - z1)
        for (x1, z1), (x2, z2) in zip(found.points, found.points[1:], strict=False)
    )
    assert drawn <= length * (1 + 1e-9)
    assert all(z >= -1e-12 for _, z in found.points)


@given(lengths, speeds, shares, st.integers(2, 4))
def test_chains_side_by_side_hang_as_one_does(length, speed, share, count):
    one = hang(LINE, length, speed, share * length)
    more = hang(replace(LINE, count=count), length, speed, share * length)
    assert (more.height, more.top_angle, more.points) == (one.height, one.top_angle, one.points)
    assert more.total_tension == count * one.total_tension
    assert more.load == pytest.approx(count * one.load)


def test_a_trace_of_shine_joins_up_with_none():
    assert hang(LINE, 1.0, 1.5, 1e-8).height == pytest.approx(hang(LINE, 1.0, 1.5).height)
    assert hang(LINE, 1.0, 1.5, 1e-5).height == pytest.approx(hang(LINE, 1.0, 1.5).height, abs=1e-4)


@given(lines, lengths, st.floats(0.1, 2.5))
def test_at_lift_off_the_chain_leaves_the_footrope_as_a_free_one_does(chain_line, length, speed):
    lifted = hang(chain_line, length, speed)
    about_to = hang(chain_line, length, speed, 1e-7 * length)
    assert about_to.top_angle == pytest.approx(lifted.critical_angle, abs=1e-4)
    assert about_to.height == pytest.approx(lifted.height, rel=1e-4)
    assert about_to.touches
    assert not lifted.touches


def test_drag_on_the_lying_part_is_a_heavier_pull():
    plain = hang(LINE, 1.0, 1.5, 0.3)
    dragged = hang(replace(LINE, sheltered=False), 1.0, 1.5, 0.3)
    extra = 1025 / 2 * TANGENTIAL_DRAG * LINE.diameter * 1.5**2 * 0.3
    assert dragged.touchdown_tension - plain.touchdown_tension == pytest.approx(extra)
    assert dragged.height < plain.height


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"shine": 1.2}, "shine is longer"),
        ({"shine": -0.1}, "shine is below zero"),
        ({"speed": -1}, "speed is below zero"),
        ({"speed": 12}, "faster than any trawl"),
        ({"speed": float("nan")}, "speed is not a number"),
        ({"length": 0}, "Enter the length"),
        ({"length": 1e6}, "longer than any"),
        ({"friction": -0.1}, "friction is below zero"),
        ({"friction": 9}, "more than any bottom"),
        ({"count": 0}, "1 or more"),
        ({"count": 1.5}, "1 or more"),
        ({"normal": -1}, "drag coefficient"),
    ],
)
def test_what_cannot_be_is_refused_in_plain_words(changes, words):
    entry = {"length": 1.0, "speed": 1.5, "shine": 0.2} | changes
    of_line = {name: entry.pop(name) for name in ("count", "normal") if name in entry}
    with pytest.raises(ValueError, match=words):
        hang(replace(LINE, **of_line), **entry)


def test_line_of_a_stock():
    """Steel keeps 1 - 1025/7850 of its weight in sea water; g by definition."""
    expected = chain.mass_per_metre(THREE_EIGHTHS) * (1 - 1025 / 7850) * 9.80665
    assert LINE.weight == pytest.approx(expected)
    assert LINE.diameter == THREE_EIGHTHS.wire


def test_report_sets_the_rule_beside_the_model():
    report = height_report(ONE_HEAVY, 42 * INCH, 1.5, 12 * INCH)
    assert report.rule.height == pytest.approx(30 * INCH)
    assert report.rule.trade
    assert not report.model.trade
    assert report.model.height == hang(LINE, 42 * INCH, 1.5, 12 * INCH, FRICTION).height
    assert report.estimates == (report.rule, report.model)
    assert not report.at_least
    assert "no source" in report.rule.basis
    assert "memory" in report.model.basis


@given(lengths, st.floats(0, 2.5), shares, st.sampled_from([THREE_EIGHTHS, FIVE_SIXTEENTHS]))
def test_report_spreads_hold_what_lies_in_them(length, speed, share, stock):
    report = height_report(chain.Choice(stock, 2), length, speed, share * length)
    rounding = 1e-12
    model = report.model
    for low, high in (report.by_speed, report.by_friction):
        assert model.low - rounding <= low <= model.height + rounding
        assert model.height - rounding <= high <= model.high + rounding
    assert model.high <= report.rule.height + rounding
    assert model.low - rounding <= report.with_lying_drag <= model.height + rounding


@given(
    lengths,
    st.floats(0, 2.5),
    shares,
    st.sampled_from([*BOTTOMS.values(), UNKNOWN]),
    st.floats(-1, 1),
    st.floats(0, 1),
    st.booleans(),
)
@settings(max_examples=60)
def test_a_spread_holds_every_dropper_that_fits_what_was_told(
    length, speed, share, bottom, off, rough, lying_drag
):
    report = height_report(ONE_HEAVY, length, speed, share * length, Known(bottom))
    at = max(0.0, speed + off * SPEED_SPREAD)
    friction = bottom.least + rough * (bottom.most - bottom.least)
    chain_line = replace(LINE, sheltered=not lying_drag)
    height = hang(chain_line, length, at, share * length, friction).height
    assert report.model.low - 1e-9 <= height <= report.model.high + 1e-9


def test_the_low_end_counts_the_drag_on_the_lying_part_by_an_independent_integration():
    """
    The pull at touchdown: friction and drag along the lying chain, each over its length.

    Tangential drag 1.15 on the bar's diameter: DNV-OS-E301, from memory.
    """
    length, speed, shine = 48 * INCH, 1.4, 14 * INCH
    report = height_report(ONE_HEAVY, length, speed, shine, Known(BOTTOMS["sand"]))
    fast = speed + 0.3
    per_metre = 0.6 * LINE.weight + 1025 / 2 * 1.15 * LINE.diameter * fast**2
    height, _, _ = integrate(LINE, length, fast, shine, per_metre / LINE.weight)
    assert report.model.low == pytest.approx(height, rel=1e-5)
    sheltered, _, _ = integrate(LINE, length, fast, shine, 0.6)
    assert report.model.low < sheltered


def test_a_bottom_that_is_known_makes_the_spread_smaller():
    wide, *narrow = (
        height_report(ONE_HEAVY, 48 * INCH, 1.4, 14 * INCH, Known(bottom)).model
        for bottom in (UNKNOWN, *BOTTOMS.values())
    )
    assert [each.height for each in narrow] == sorted((e.height for e in narrow), reverse=True)
    for each in narrow:
        assert wide.low - 1e-9 <= each.low < each.height < each.high <= wide.high + 1e-9
        assert each.high - each.low < wide.high - wide.low


@given(
    lengths,
    st.sampled_from(list(BOTTOMS.values())),
    st.floats(0.3, 2),
    st.floats(0.01, 0.95),
    st.sampled_from([THREE_EIGHTHS, FIVE_SIXTEENTHS]),
)
@settings(max_examples=40)
def test_a_card_gives_the_height_of_any_dropper_of_that_chain(length, bottom, speed, share, stock):
    found = card(stock, 1.0, bottom, [speed, 2 * speed], [0.0, share])
    report = height_report(chain.Choice(stock), length, speed, share * length, Known(bottom))
    assert found.share(speed, share) * report.rule.height == pytest.approx(report.model.height)
    free = hang(line(stock), 1.0, 2 * speed).height
    assert found.share(2 * speed, 0.0) == pytest.approx(free)


def test_report_agrees_with_quadrature_of_the_flat_end():
    """
    With nearly all of the chain on the bottom, height = integral of weight s / pull ds.

    There the chain is nearly flat, drag across it vanishes, and along it adds little:
    a check on the far end of the range by plain quadrature.
    """
    shine, free = 0.95, 0.002
    found = hang(LINE, shine + free, 1.0, shine, 0.8)
    pull = 0.8 * shine
    height, _ = quad(lambda s: s / pull, 0, free)
    assert found.height == pytest.approx(height, rel=0.01)


def test_report_refuses_what_cannot_be():
    with pytest.raises(ValueError, match="shine is longer"):
        height_report(ONE_HEAVY, 1.0, 1.5, 1.1)
