"""A rope that hangs in still water between two points, against the closed forms of a catenary."""

import numpy as np
import pytest
from scipy.optimize import brentq, fsolve

from rigs.physics.flight.solve import settle

from .lines import in_a_plane, pieces, sagging, system

SPAN, RISE, LENGTH, HEAVY = 8.0, 2.0, 10.0, 20.0  # an invented chain: metres and N/m
WEIGHT = HEAVY * LENGTH


def hung(stiff, count):
    """Return (places, newtons on the two ends) of the chain as ``count`` bars at rest."""
    chain = system(pieces(count, LENGTH, stiff=stiff, heavy=HEAVY), in_a_plane(count + 1))
    start = sagging((0.0, 0.0, 0.0), (SPAN, 0.0, RISE), count + 1, 2.0)
    at = settle(chain, start).at
    return at, chain.forces(at)[[0, -1]]


def inextensible(length):
    """
    Return (places at even steps along it, newtons on the two ends) of a catenary.

    From sqrt(length^2 - rise^2) = 2 a sinh(span / 2 a), as in any book of statics; from memory.
    """
    level = np.sqrt(length**2 - RISE**2)
    a = brentq(lambda a: 2 * a * np.sinh(SPAN / 2 / a) - level, 1, 99)
    middle = SPAN / 2 - a * np.arctanh(RISE / length)
    along = np.linspace(0.0, length, 101) + a * np.sinh(-middle / a)
    x = middle + a * np.arcsinh(along / a)
    up = np.hypot(a, along) - np.hypot(a, along[0])
    pulls = HEAVY * np.array([[a, along[0]], [-a, -along[-1]]])
    return np.stack([x, up], axis=1), pulls


def elastic(stiff):
    """
    Return the same of an elastic catenary, at even steps along the chain before it stretched.

    Irvine, Cable Structures (1981), the elastic catenary's two equations; from memory.
    """

    def shape(level, upright, s):
        # From the upper end down: ``upright`` is the upright pull there.
        left = upright - HEAVY * s
        across = level * s / stiff
        across += level / HEAVY * (np.arcsinh(upright / level) - np.arcsinh(left / level))
        down = s / stiff * (upright - HEAVY * s / 2)
        down += (np.hypot(level, upright) - np.hypot(level, left)) / HEAVY
        return across, down

    def missed(pulls):
        across, down = shape(*pulls, LENGTH)
        return across - SPAN, down - RISE

    level, upright = fsolve(missed, (WEIGHT / 2, WEIGHT * 0.7), xtol=1e-12)
    across, down = shape(level, upright, np.linspace(LENGTH, 0.0, 101))
    # Its lower end bears what of the weight does not hang on the upper one.
    pulls = np.array([[level, upright - WEIGHT], [-level, -upright]])
    return np.stack([SPAN - across, RISE - down], axis=1), pulls


def test_a_chain_that_hardly_stretches_hangs_as_a_catenary():
    at, pulls = hung(stiff=1e6, count=100)
    shape, ends = inextensible(LENGTH)
    assert at[:, [0, 2]] == pytest.approx(shape, abs=5e-4)
    assert pulls[:, [0, 2]] == pytest.approx(ends, abs=WEIGHT * 1e-4)


def test_a_chain_that_stretches_hangs_as_an_elastic_catenary():
    stiff = 4e3  # it gets some three hundredths longer
    at, pulls = hung(stiff, count=100)
    shape, ends = elastic(stiff)
    assert at[:, [0, 2]] == pytest.approx(shape, abs=5e-4)
    assert pulls[:, [0, 2]] == pytest.approx(ends, abs=WEIGHT * 1e-4)
    stiffer, __ = hung(stiff=1e6, count=100)
    assert np.abs(stiffer - at).max() > 0.1


def test_half_as_long_bars_miss_the_catenary_by_a_quarter():
    shape, __ = elastic(4e3)
    missed = [
        np.abs(hung(4e3, count)[0][:, [0, 2]] - shape[:: 100 // count]).max() for count in (10, 20)
    ]
    assert missed[0] == pytest.approx(4 * missed[1], rel=0.1)
