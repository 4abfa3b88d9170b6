"""Single lines as Systems of bars, of as few parts as a formula has."""

import numpy as np

from rigs.physics.flight.bars import straight
from rigs.physics.flight.system import Hangers, System

NOTHING_HUNG = Hangers(
    nodes=np.array([], dtype=np.intp),
    table=np.array([], dtype=np.intp),
    number=np.array([]),
    heights=np.array([0.0, 1.0]),
    aft=np.zeros((0, 2)),
    down=np.zeros((0, 2)),
)


def pieces(count, length, **line):
    """Return ``count`` even bars, ``length`` metres in all without pull; what is not told is 0."""
    make = {"thick": 0.01, "heavy": 0.0, "across": 0.0, "along": 0.0} | line
    return straight([(i, i + 1) for i in range(count)], [length / count] * count, **make)


def system(bars, free, *, fixed=None, rubs=None, bears=1.0, speed=0.0):
    """
    Return the System of ``bars`` alone, whose nodes can move as ``free`` (nodes, 3) says.

    There is no bottom if ``rubs``, the friction on it, is None. ``bears`` is how much of a node
    can lie on it: the bottom's push sets in softly, and the more so the shorter bars are.
    """
    free = np.asarray(free, dtype=bool)
    every = np.ones(len(free))
    return System(
        bars=(bars,),
        hangers=NOTHING_HUNG,
        free=free,
        fixed=np.zeros((len(free), 3)) if fixed is None else np.asarray(fixed, dtype=float),
        bottom=0 * every if rubs is None else bears * every,
        rubs=(rubs or 0.0) * every,
        speed=speed,
    )


def in_a_plane(count, first=(False, False), last=(False, False)):
    """Return which ways ``count`` nodes can move if none leaves the plane of stream and weight."""
    free = np.tile([True, False, True], (count, 1))
    free[0, [0, 2]], free[-1, [0, 2]] = first, last
    return free


def sagging(first, last, count, by):
    """Return ``count`` places from ``first`` to ``last`` that sag ``by`` metres between them."""
    share = np.linspace(0.0, 1.0, count)[:, None]
    at = np.array(first) + (np.array(last) - np.array(first)) * share
    at[:, 2] -= by * 4 * (share * (1 - share))[:, 0]
    return at
