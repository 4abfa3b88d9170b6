"""
A plane piece of netting in the stream, against sums done by hand.

By hand means: from the twines of one mesh and how many meshes there are. A piece of M by N
meshes has 4 M N bars, as netting's twine area is reckoned (Prado, FAO Fisherman's Workbook,
1990, from memory). Drag square to netting is 1/2 rho Cd (twine area) V^2; for any other way
the twines' own parts of the stream are summed by the cross-flow principle (Fridman, FAO
Fishing Manuals, Calculations for fishing gear designs, 1986, equations 5.22 and 5.23, read).
"""

from math import cos, pi, radians, sin, sqrt

import numpy as np
import pytest

from rigs.physics.chain import GRAVITY, SEA_WATER
from rigs.physics.flight import netting
from rigs.physics.flight.laid import FOOT, Cut, Station
from rigs.physics.flight.solve import settle
from rigs.physics.flight.unknowns import Guess
from rigs.words.gear import PORT, STARBOARD

from .lines import system

GUESS = Guess(speed=1.0, friction=0.0, door_spread=1.0, float_lift=3.0, mesh=0.08, twine=0.0018)
ACROSS, DEEP = 50, 40  # meshes, invented
COLUMNS, ROWS = 5, 4
OPEN = 0.6  # how wide a mesh is, as a share of stretched
SHUT = sqrt(1 - OPEN**2)  # how long it is then
BARS = 4 * ACROSS * DEEP
BAR = GUESS.mesh / 2
AREA = BARS * BAR * GUESS.twine


def piece():
    """Return (twines, places in its own plane: across, none, forward) of the piece, unstretched."""
    wide, deep = ACROSS * GUESS.mesh, DEEP * GUESS.mesh
    # No narrower at the codend than at the seam: a rectangle.
    cut = Cut(
        head_bosom=wide,
        head_wings={PORT: 0.0, STARBOARD: 0.0},
        foot_bosom=wide,
        foot_wings={PORT: 0.0, STARBOARD: 0.0},
        hanging=1.0,
        deep=deep,
        wing_end=0.0,
        codend=wide / 2,
    )
    edge = [
        Station(FOOT, STARBOARD, 0.0, None, (wide * (i / COLUMNS - 0.5), deep))
        for i in range(COLUMNS + 1)
    ]
    shares = [row / ROWS for row in range(ROWS + 1)]
    twines = netting.twines(
        edge, cut, GUESS, shares, lambda i, row: i * (ROWS + 1) + row, closed=False
    )
    at = np.array(
        [
            (each.lower[0] * OPEN, 0.0, deep * SHUT * (1 - share))
            for each in edge
            for share in shares
        ]
    )
    return twines, at


def turned(at, angle):
    """Return ``at`` with its width to starboard, at ``angle`` to the stream."""
    forward = at[:, 2]
    return np.stack([-forward * cos(angle), at[:, 0], forward * sin(angle)], axis=1)


def by_hand(angle, speed):
    """Return (drag, lift) in newtons of the piece at ``angle`` to the stream."""
    with_it = SHUT * cos(angle)  # of a twine's way; both of a mesh have the same
    square = sqrt(1 - with_it**2)
    pressure = SEA_WATER / 2 * AREA * speed**2
    across, along = pressure * netting.ACROSS * square**2, pressure * netting.ALONG * with_it**2
    # What is square to a twine lies in the plane of stream and twine.
    drag = across * square + along * with_it
    upright = -SHUT * sin(angle)
    lift = -across * with_it * upright / square + along * upright
    return drag, lift


@pytest.mark.parametrize("degrees", [0, 20, 45, 70, 90])
def test_a_plane_net_drags_as_its_twines_by_hand(degrees):
    twines, at = piece()
    speed, angle = 1.3, radians(degrees)
    force = system(twines, np.ones((len(at), 3)), speed=speed).drag(turned(at, angle)).sum(axis=0)
    drag, lift = by_hand(angle, speed)
    assert force[0] == pytest.approx(drag)
    assert force[2] == pytest.approx(lift, abs=1e-9 * drag)
    assert force[1] == pytest.approx(0.0, abs=1e-9 * drag)


def test_across_the_stream_the_sum_is_that_of_the_twine_area():
    drag, __ = by_hand(pi / 2, 1.3)
    assert drag == pytest.approx(SEA_WATER / 2 * netting.ACROSS * AREA * 1.3**2)


def test_the_whole_twine_is_there_and_none_of_it_is_stretched():
    twines, at = piece()
    assert twines.metres.sum() == pytest.approx(BARS * BAR)
    # What keeps cells from folding is there too, without any twine.
    lengths, there = np.linalg.norm(twines.vectors(at), axis=1), twines.metres > 0
    assert lengths[there] == pytest.approx(twines.rest[there])
    assert lengths[~there] == pytest.approx(0.0, abs=1e-9)
    light = SEA_WATER - netting.DENSITY
    lift = -(twines.metres * twines.heavy).sum()
    assert lift == pytest.approx(light * GRAVITY * BARS * BAR * pi * GUESS.twine**2 / 4)


def test_a_net_held_stretched_across_the_stream_hands_on_the_drag_of_its_twine_area():
    """Pulled out by a hundredth and towed slowly, it stays all but plane."""
    twines, at = piece()
    speed = 0.3
    held = turned(at, pi / 2) * 1.01
    inside = np.zeros((COLUMNS + 1, ROWS + 1), dtype=bool)
    inside[1:-1, 1:-1] = True
    free = np.repeat(inside.reshape(-1, 1), 3, axis=1)
    net = system(twines, free, speed=speed)
    rest = settle(net, held).at
    assert 0 < np.abs(rest - held).max() < 0.05
    on_edge = net.forces(rest)[~inside.ravel()].sum(axis=0)
    assert on_edge[0] == pytest.approx(SEA_WATER / 2 * netting.ACROSS * AREA * speed**2, rel=0.01)
    # It floats, and the edge has to hold that too.
    assert on_edge[2] == pytest.approx(-(twines.metres * twines.heavy).sum(), rel=0.05)


def test_netting_pulls_along_its_twines():
    """
    Stretched by a hundredth both ways, its force a row is that of its bars by hand.

    Across a line of M meshes run 2 M bars, each with its share of the pull along the net.
    """
    twines, at = piece()
    free = np.zeros((len(at), 3), dtype=bool)
    net = system(twines, free)
    on_nodes = net.forces(turned(at, pi / 2) * 1.01).reshape(COLUMNS + 1, ROWS + 1, 3)
    each = netting.STIFF * pi * GUESS.twine**2 / 4 * 0.01
    assert -on_nodes[:, 0, 2].sum() == pytest.approx(2 * ACROSS * each * SHUT, rel=2e-3)
    assert on_nodes[0, :, 1].sum() == pytest.approx(2 * DEEP * each * OPEN, rel=2e-3)
