"""A towed chain of bars against the single dropper's model, which is solved in another way."""

from math import asin, cos, degrees, pi, sin, sqrt

import numpy as np
import pytest

from rigs.physics import chain, tow
from rigs.physics.chain import SEA_WATER
from rigs.physics.flight.solve import settle
from rigs.words.units import INCH, KNOT

from .lines import in_a_plane, pieces, system

LENGTH = 42 * INCH
SPEEDS = [1.5 * KNOT, 2.5 * KNOT, 3.5 * KNOT]
STOCK = chain.STOCKS["3/8 in"]
LINE = tow.line(STOCK)
STIFF = 1e5


def bars(count):
    """Return the dropper as ``count`` bars, from the footrope down."""
    return pieces(
        count,
        LENGTH,
        stiff=STIFF,
        thick=LINE.diameter,
        heavy=LINE.weight,
        across=LINE.normal,
        along=LINE.tangential,
    )


def trailing(count, up, aft):
    """Return places from which a chain trails: its top ``up`` metres high, its end ``aft``."""
    share = np.linspace(0.0, 1.0, count + 1)
    return np.stack([share * aft, 0 * share, up * (1 - share)], axis=1)


@pytest.mark.parametrize("speed", SPEEDS)
def test_a_chain_that_hangs_free_trails_at_the_critical_angle(speed):
    count = 12
    free = in_a_plane(count + 1, last=(True, True))
    hung = system(bars(count), free, speed=speed)
    at = settle(hung, trailing(count, 1.0, 0.2)).at
    ways = np.diff(at, axis=0)
    angles = np.arctan2(ways[:, 0], -ways[:, 2])
    assert angles == pytest.approx(np.full(count, tow.critical_angle(LINE, speed)), abs=1e-5)
    # What holds it bears all of its weight and drag: the single dropper's own figures.
    alone = tow.hang(LINE, LENGTH, speed)
    pull = hung.forces(at)[0]
    assert pull[0] == pytest.approx(alone.tension * sin(alone.top_angle), rel=1e-4)
    assert -pull[2] == pytest.approx(alone.load, rel=1e-4)


@pytest.mark.parametrize("speed", SPEEDS)
def test_the_critical_angle_is_fridmans(speed):
    """
    Fridman, FAO Fishing Manuals, Calculations for fishing gear designs (1986), read.

    Equations 5.22 and 5.23: square to itself, a line in the stream bears weight as it bears
    drag. By hand: from w sin a = n cos^2 a, a quadratic equation in sin a.
    """
    count = 8
    hung = system(bars(count), in_a_plane(count + 1, last=(True, True)), speed=speed)
    at = settle(hung, trailing(count, 1.0, 0.2)).at
    way = at[-1] - at[0]
    over = 0.5 * SEA_WATER * LINE.normal * LINE.diameter * speed**2 / LINE.weight
    by_hand = asin((sqrt(1 + 4 * over**2) - 1) / (2 * over))
    assert degrees(np.arctan2(way[0], -way[2])) == pytest.approx(degrees(by_hand), abs=1e-3)


def dragged(shine, speed, friction, *, held):
    """
    Return (how high its top is over its end, newtons on the top, the single dropper's Hang).

    The top of the bars is ``held`` at the height that a dropper with ``shine`` has, or bears
    what that dropper's does.
    """
    count = 160
    # Bars on the bottom are in the stream, so it has to be that model's dropper out of shelter.
    alone = tow.hang(tow.line(STOCK, sheltered=False), LENGTH, speed, shine, friction)
    fixed = np.zeros((count + 1, 3))
    fixed[0, 2] = 0.0 if held else alone.load
    towed = system(
        bars(count),
        in_a_plane(count + 1, first=(False, not held), last=(True, True)),
        fixed=fixed,
        rubs=friction,
        bears=LENGTH / count / 5,
        speed=speed,
    )
    start = trailing(count, alone.height if held else 0.8 * alone.height, LENGTH * 0.8)
    at = settle(towed, start).at
    return at[0, 2] - at[-1, 2], towed.forces(at)[0], alone


MILLIMETRE = 1e-3
"""Over so much the bottom sets in for bars; for the single dropper it does so at once."""


@pytest.mark.parametrize("friction", [0.3, 0.7])
@pytest.mark.parametrize("speed", SPEEDS)
@pytest.mark.parametrize("share", [0.15, 0.3, 0.5, 0.75])
def test_a_chain_with_shine_holds_its_top_as_high_as_the_single_dropper(share, speed, friction):
    up, __, alone = dragged(share * LENGTH, speed, friction, held=False)
    assert up == pytest.approx(alone.height, rel=0.01, abs=MILLIMETRE)


@pytest.mark.parametrize("speed", SPEEDS)
@pytest.mark.parametrize("share", [0.05, 0.15, 0.3, 0.5, 0.75])
def test_a_chain_with_shine_pulls_its_top_as_the_single_dropper_does(share, speed):
    __, pull, alone = dragged(share * LENGTH, speed, 0.5, held=True)
    assert pull[0] == pytest.approx(alone.tension * sin(alone.top_angle), rel=0.01)
    assert -pull[2] == pytest.approx(alone.load, rel=0.01)


def test_drag_across_and_along_add_up_by_the_cross_flow_principle():
    """Of one bar, by hand: each part of the stream drags with its own square."""
    speed, angle = 1.3, pi / 3
    bar = pieces(1, 1.0, stiff=1.0, thick=0.01, across=1.4, along=0.06)
    at = np.array([[0.0, 0.0, 0.0], [cos(angle), 0.0, sin(angle)]])
    pressure = 0.5 * SEA_WATER * 0.01
    across = pressure * 1.4 * (speed * sin(angle)) ** 2
    along = pressure * 0.06 * (speed * cos(angle)) ** 2
    force = system(bar, np.ones((2, 3)), speed=speed).drag(at).sum(axis=0)
    assert force[0] == pytest.approx(across * sin(angle) + along * cos(angle))
    assert force[2] == pytest.approx(-across * cos(angle) + along * sin(angle))
