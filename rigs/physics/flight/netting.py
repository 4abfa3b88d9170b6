"""The netting between a mouth's edge and the codend, as twines of cells."""

from collections.abc import Callable, Sequence
from math import pi

import numpy as np

from rigs.physics.chain import GRAVITY, SEA_WATER

from .bars import Bars, Figures, Places
from .laid import Cut, Station
from .unknowns import Guess

ACROSS, ALONG = 1.2, 0.08
"""Drag coefficients of a twine across and along the stream, for its thickness: a cylinder at
a Reynolds number of some thousands, and its skin. From memory, as in handbooks of flow;
knots and shelter are in ``Guess.netting``, which makes them more or less."""
STIFF = 0.9e9
"""Newtons a square metre of twine of polyethylene at a strain of 1. From memory: 0.5 to
1.5e9."""
DENSITY = 950.0
"""Kilograms a cubic metre of polyethylene: it floats. From memory."""

UNFOLDS = 5.0
"""Newtons a metre against folding a cell along its diagonal: next to nothing beside the pull of
the netting, and enough that a slack cell folds no way by chance. A means of reckoning."""

_NOTHING = 0.02  # metres: a spring's vector has to have some length
_ACROSS = np.array([-1.0, 1.0, 1.0, -1.0]) / 2
_AFT = np.array([-1.0, -1.0, 1.0, 1.0]) / 2
_TWIST = np.array([1.0, -1.0, 1.0, -1.0])


def twines(
    edge: Sequence[Station],
    cut: Cut,
    guess: Guess,
    shares: Sequence[float],
    node: Callable[[int, int], int],
    *,
    closed: bool,
) -> Bars:
    """
    Return the twines of the netting behind ``edge``, two for each cell.

    ``shares`` are the rows as shares of the way from the edge to the codend, with both ends;
    ``node`` gives the node of a station and a row. A cell's twines are those of a mesh in its
    middle (bars along the twine: Bessonneau and Marichal, 1998, from memory): triangles of
    netting would lock. ``closed`` joins the last station to the first.
    """
    count, rows = len(edge), len(shares) - 1
    pairs = [(i, (i + 1) % count) for i in range(count if closed else count - 1)]
    front = np.array([_of_one_panel(edge[i], edge[j]) for i, j in pairs])  # (pairs, 2, U and V)
    seams = np.array([_seams(edge[i], edge[j], cut) for i, j in pairs])
    narrow = front[:, :, 0] * cut.codend / seams
    share = np.array(shares)
    at = np.empty((len(pairs), 2, rows + 1, 2))
    at[..., 0] = front[:, :, 0, None] * (1 - share) + narrow[:, :, None] * share
    at[..., 1] = front[:, :, 1, None] * (1 - share)
    # Corners of each cell in its own plane: edge first, then aft, around.
    corners = np.stack([at[:, 0, :-1], at[:, 1, :-1], at[:, 1, 1:], at[:, 0, 1:]], axis=2)
    corners = corners.reshape(-1, 4, 2)
    slopes = np.stack([_ACROSS @ corners, _AFT @ corners], axis=2)  # (cells, U and V, two ways)
    area = np.abs(np.linalg.det(slopes))
    back = np.linalg.inv(slopes)  # (cells, two ways, U and V)
    by_u = back[:, 0, 0, None] * _ACROSS + back[:, 1, 0, None] * _AFT
    by_v = back[:, 0, 1, None] * _ACROSS + back[:, 1, 1, None] * _AFT
    nodes = np.array(
        [
            (node(i, row), node(j, row), node(j, row + 1), node(i, row + 1))
            for i, j in pairs
            for row in range(rows)
        ],
        dtype=np.intp,
    )
    bar = guess.mesh / 2
    cells = len(nodes)
    thread = pi * guess.twine**2 / 4
    number = np.tile(area / (2 * bar**2), 2)

    def each(value: float) -> Figures:
        return np.full(2 * cells, value)

    # Where all lines end in one point there is nothing that could fold.
    inside = np.tile(np.arange(rows) < rows - 1, len(pairs))
    return Bars.joined(
        [
            Bars(
                nodes=np.tile(nodes, (2, 1)),
                weights=bar * np.concatenate([by_v + by_u, by_v - by_u]),
                shares=np.full((2 * cells, 4), 0.25),
                rest=each(bar),
                number=number,
                stiff=each(STIFF * thread),
                metres=number * bar,
                thick=each(guess.twine),
                heavy=each((DENSITY - SEA_WATER) * GRAVITY * thread),
                across=each(ACROSS * guess.netting),
                along=each(ALONG * guess.netting),
            ),
            springs(nodes[inside], _folding(corners, by_u, by_v)[inside], UNFOLDS),
        ]
    )


def springs(nodes: Places, weights: Figures, stiff: float) -> Bars:
    """
    Return what pulls vectors of four ``nodes`` by ``weights`` (n, 4) to next to nothing.

    ``stiff`` is newtons a metre. They weigh nothing and are not in the stream.
    """
    count = len(nodes)

    def each(value: float) -> Figures:
        return np.full(count, value)

    return Bars(
        nodes=nodes,
        weights=weights,
        shares=np.full((count, 4), 0.25),
        rest=each(_NOTHING),
        number=each(1.0),
        stiff=each(stiff * _NOTHING),
        metres=each(0.0),
        thick=each(0.0),
        heavy=each(0.0),
        across=each(0.0),
        along=each(0.0),
    )


def _folding(corners: Figures, by_u: Figures, by_v: Figures) -> Figures:
    """
    Return the weights (cells, 4) of how far each cell is folded along its diagonals.

    A cell's middle does not see it, so that its twines let it. What stretches evenly, or
    shears, is no fold (as Flanagan and Belytschko, 1981, have it, from memory).
    """
    twist = np.einsum("i,cid->cd", _TWIST, corners)
    return np.asarray(_TWIST - twist[:, 0, None] * by_u - twist[:, 1, None] * by_v)


def _of_one_panel(one: Station, other: Station) -> tuple[tuple[float, float], ...]:
    """Return (U, V) of two stations next to each other, in the panel that both are of."""
    if one.lower is not None and other.lower is not None:
        return one.lower, other.lower
    assert one.upper is not None
    assert other.upper is not None
    return one.upper, other.upper


def _seams(one: Station, other: Station, cut: Cut) -> tuple[float, float]:
    lower = one.lower is not None and other.lower is not None
    return cut.seam(one.side, lower), cut.seam(other.side, lower)
