"""
A flight carried over to a net of another make, as a place to start from.

Another grid, other droppers, half a net or the whole of it: each node starts where the flight
has that place of the net.
"""

from itertools import pairwise

import numpy as np

from rigs.words.gear import PORT, STARBOARD

from .bars import Figures
from .built import Built
from .laid import HEAD, WING_END

MIRROR = np.array([1.0, -1.0, 1.0])


def carried(old: Built, at: Figures, new: Built) -> Figures:
    """
    Return where the nodes of ``new`` start (nodes, 3), from ``old`` with its nodes ``at``.

    What cannot be found in ``old``, and what does not move, stays where ``new`` has it.
    """
    found = new.start.copy()
    rows = np.arange(new.rows) / new.rows
    for i, station in enumerate(new.edge):
        line = _line(old, at, station.part, station.side, station.out)
        for row, share in enumerate(rows):
            found[i * new.rows + row] = _along(line, share)
    found[new.end] = at[old.end]
    for (side, name), nodes in new.legs.items():
        line = at[old.legs[_side(old, side), name]] * _mirror(old, side)
        for k, node in enumerate(nodes):
            found[node] = _along(line, k / (len(nodes) - 1))
    for ropes, olds, leg in ((new.head, old.head, "top"), (new.foot, old.foot, "bottom")):
        for side, rope in ropes.items():
            legs = old.legs[_side(old, side), leg]
            for out, node in rope:
                place = _on_rope(olds[_side(old, side)], at, out, at[legs[-2]])
                found[node] = place * _mirror(old, side)
    return np.where(new.system.free, found, new.start)


def _side(old: Built, side: str) -> str:
    return STARBOARD if old.half else side


def _mirror(old: Built, side: str) -> Figures:
    return MIRROR if old.half and side == PORT else np.ones(3)


def _along(line: Figures, share: float) -> Figures:
    """Return the place at ``share`` of the way along the points of ``line``, by their count."""
    steps = np.linspace(0.0, 1.0, len(line))
    return np.array([np.interp(share, steps, line[:, way]) for way in range(3)])


def _on_rope(rope: list[tuple[float, int]], at: Figures, out: float, ahead: Figures) -> Figures:
    """Return the place ``out`` metres along ``rope``; beyond its end, on toward ``ahead``."""
    outs = [each for each, __ in rope]
    places = at[[node for __, node in rope]]
    found = np.array([np.interp(out, outs, places[:, way]) for way in range(3)])
    if out > outs[-1]:
        way = ahead - places[-1]
        found += (out - outs[-1]) * way / np.linalg.norm(way)
    return found


def _line(old: Built, at: Figures, part: str, side: str, out: float) -> Figures:
    """Return the points aft of a place on the mouth's edge, down to where the codend begins."""
    on = _stations(old, part, _side(old, side))
    points = [at[[i * old.rows + row for row in range(old.rows)] + [old.end]] for __, i in on]
    for k, (near, far) in enumerate(pairwise([each for each, __ in on])):
        if out <= far:
            share = max(0.0, (out - near) / (far - near))
            found = (1 - share) * points[k] + share * points[k + 1]
            return np.array(found * _mirror(old, side))
    return np.array(points[-1] * _mirror(old, side))


def _stations(old: Built, part: str, side: str) -> list[tuple[float, int]]:
    """Return (how far out, station) of one part of the edge, in order; a rope's with its tip."""
    if part == WING_END:
        return sorted(
            (station.out, i)
            for i, station in enumerate(old.edge)
            if station.part == WING_END and station.side == side
        )
    rope = (old.head if part == HEAD else old.foot)[side]
    edge = len(old.edge) * old.rows
    return [(out, node // old.rows) for out, node in rope if node < edge]
