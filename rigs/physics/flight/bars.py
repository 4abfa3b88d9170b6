"""
What pulls in a net: wires, ropes and twines as bars, with the water's drag on them.

A bar is a straight piece between nodes. Its vector is a weighted sum of node places, so
that a rope's piece (one node less another) and a twine of a cell of netting (four nodes,
looked at in the cell's middle) are one thing. Coordinates are metres: aft, to starboard,
up; the stream runs aft.
"""

from dataclasses import dataclass, fields
from typing import Self

import numpy as np
from numpy.typing import NDArray

from rigs.physics.chain import SEA_WATER

Figures = NDArray[np.float64]
Places = NDArray[np.intp]

SLACK = 1e-4
"""What is left of a bar's stiffness under compression: next to nothing, so that the
equations keep one answer where a mesh goes slack."""
ROUND = 2e-4
"""Strain over which a bar goes from slack to taut, so that the change has a slope."""


@dataclass(frozen=True, slots=True)
class Bars:
    """
    Bars of one sort, a row each; ``n`` bars that hang on ``k`` nodes.

    ``nodes`` (n, k) and ``weights`` (n, k) give each bar's vector; ``shares`` (n, k) how
    its drag and weight are shared among them. ``rest`` is the vector's length in metres
    without pull, ``number`` how many lie side by side, ``stiff`` the newtons of one at a
    strain of 1. ``metres`` is the line in the water that a row stands for, all of it, of
    ``thick`` metres, ``heavy`` newtons a metre in water and the drag coefficients
    ``across`` and ``along``, both for its thickness.
    """

    nodes: Places
    weights: Figures
    shares: Figures
    rest: Figures
    number: Figures
    stiff: Figures
    metres: Figures
    thick: Figures
    heavy: Figures
    across: Figures
    along: Figures

    @classmethod
    def joined(cls, rows: list[Self]) -> Self:
        """Return all of ``rows``, which hang on equally many nodes, as one."""
        return cls(*(np.concatenate([getattr(row, f.name) for row in rows]) for f in fields(cls)))

    def vectors(self, at: Figures) -> Figures:
        """Return the vectors (n, 3) with the nodes ``at`` (nodes, 3)."""
        found: Figures = np.einsum("nk,nkd->nd", self.weights, at[self.nodes])
        return found

    def pull(self, length: Figures) -> tuple[Figures, Figures]:
        """Return newtons of all side by side at ``length`` metres, and newtons a metre more."""
        strain = length / self.rest - 1
        root = np.sqrt(strain**2 + ROUND**2)
        taut = (strain + root) / 2
        slope = (1 + strain / root) / 2
        force = self.number * self.stiff * (taut + SLACK * strain)
        return force, self.number * self.stiff * (slope + SLACK) / self.rest


def straight(
    nodes: list[tuple[int, int]],
    rest: list[float],
    *,
    stiff: float,
    thick: float,
    heavy: float,
    across: float,
    along: float,
    share: float = 1.0,
) -> Bars:
    """
    Return bars between pairs of ``nodes`` of one line; ``rest`` is their lengths in metres.

    ``share`` is how much of each is there: a half for what lies in the plane between two
    halves that are alike.
    """
    count = len(nodes)
    length = np.array(rest, dtype=float)

    def each(value: float) -> Figures:
        return np.full(count, value, dtype=float)

    return Bars(
        nodes=np.array(nodes, dtype=np.intp).reshape(count, 2),
        weights=np.tile([-1.0, 1.0], (count, 1)),
        shares=np.full((count, 2), 0.5),
        rest=length,
        number=each(share),
        stiff=each(stiff),
        metres=length * share,
        thick=each(thick),
        heavy=each(heavy),
        across=each(across),
        along=each(along),
    )


def drag(bars: Bars, toward: Figures, speed: float) -> tuple[Figures, Figures]:
    """
    Return newtons (n, 3) of the stream on each bar that points ``toward`` (unit vectors).

    By the cross-flow principle: what runs across a line and what runs along it drag by
    themselves (Fridman, FAO Fishing Manuals, Calculations for fishing gear designs,
    1986, equations 5.22 and 5.23, read). With it comes its change (n, 3, 3) with
    ``toward``.
    """
    pressure = SEA_WATER / 2 * bars.thick * bars.metres
    stream = np.array([speed, 0.0, 0.0])
    with_it = toward[:, 0] * speed
    across = stream - with_it[:, None] * toward
    size = np.sqrt(np.maximum(speed**2 - with_it**2, 1e-12))
    normal = pressure * bars.across
    tangent = pressure * bars.along
    force = (normal * size)[:, None] * across + (tangent * np.abs(with_it) * with_it)[
        :, None
    ] * toward
    # d(with_it) is stream . d(toward); across loses it along toward, and turns with toward.
    turned = -with_it[:, None, None] * np.eye(3) - toward[:, :, None] * stream[None, None, :]
    grown = (-with_it / size)[:, None, None] * across[:, :, None] * stream[None, None, :]
    change = normal[:, None, None] * (size[:, None, None] * turned + grown)
    change += (
        tangent[:, None, None]
        * np.abs(with_it)[:, None, None]
        * (with_it[:, None, None] * np.eye(3) + 2 * toward[:, :, None] * stream[None, None, :])
    )
    return force, change
