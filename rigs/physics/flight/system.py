"""All forces on a net's nodes, and how they change as the nodes move."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from .bars import Bars, Figures, Places, drag

PRESSED = 4e4
"""Newtons a metre with which the bottom bears a node: what lies on it sinks in by a
millimetre or so. A means of reckoning, not a measure of any ground."""
SOFT = 1e-3
"""Metres over which the bottom's push sets in."""

_TINY = 1e-18  # square metres, so that a vector of no length divides by something
_Packed = tuple[tuple[int, ...], bytes]


class Hangers(NamedTuple):
    """
    Droppers with their lower ends on the bottom or free, as tables by the height of their top.

    ``nodes`` (n) are where they hang, ``table`` (n) which table each goes by and ``number``
    (n) how many hang there. The tables' ``heights`` (m) are evenly spaced; ``aft`` and
    ``down`` (tables, m) are newtons of one.
    """

    nodes: Places
    table: Places
    number: Figures
    heights: Figures
    aft: Figures
    down: Figures

    def pull(self, up: Figures) -> tuple[Figures, Figures]:
        """Return newtons (n, 2) aft and down with tops ``up`` (n) metres high, and their slopes."""
        step = self.heights[1] - self.heights[0]
        last = len(self.heights) - 1
        at = np.clip(up / step, 0.0, last - 1e-9)
        low = at.astype(np.intp)
        part = (at - low)[:, None]
        tables = np.stack([self.aft, self.down], axis=2)
        below, above = tables[self.table, low], tables[self.table, low + 1]
        within = ((up > 0) & (up < self.heights[-1]))[:, None]
        number = self.number[:, None]
        slope = np.where(within, (above - below) / step, 0.0)
        return number * (below + part * (above - below)), number * slope


class Worked(NamedTuple):
    """Newtons (nodes, 3), their ``slopes`` as a sparse matrix, and the bars' ``pulls``."""

    forces: Figures
    slopes: Any
    pulls: list[Figures]


@dataclass(frozen=True)
class System:
    """
    A net as nodes and what acts on them.

    ``free`` (nodes, 3) says which ways a node can move; ``fixed`` (nodes, 3) are newtons that
    do not change. ``bottom`` (nodes) is how much of a node can lie on the bottom, nothing for
    one that cannot; ``rubs`` (nodes) its friction there, as a share of what presses it.
    """

    bars: tuple[Bars, ...]
    hangers: Hangers
    free: NDArray[np.bool_]
    fixed: Figures
    bottom: Figures
    rubs: Figures
    speed: float

    @property
    def _pattern(self) -> "_Pattern":
        return _pattern(
            self.free.shape,
            self.free.tobytes(),
            tuple((bars.nodes.shape, bars.nodes.tobytes()) for bars in self.bars),
            self.hangers.nodes.tobytes(),
        )

    def pulls(self, at: Figures) -> list[Figures]:
        """Return the newtons in each bar, sort by sort, with the nodes ``at`` (nodes, 3)."""
        return [bars.pull(_lengths(bars.vectors(at)))[0] for bars in self.bars]

    def forces(self, at: Figures) -> Figures:
        """Return newtons (nodes, 3) on the nodes ``at`` (nodes, 3)."""
        return self._work(at, None)[0]

    def work(self, at: Figures, held: Sequence[Figures] | None = None) -> Worked:
        """
        Return what acts ``at`` the places of the nodes, and how it falls off as they move.

        ``held`` are the pulls with which bars resist being turned; those of their lengths if
        None. After a step they are better foretold than taken from lengths that a turn has
        overdone.
        """
        blocks: list[Figures] = []
        force, pulls = self._work(at, blocks, held)
        return Worked(force, self._pattern.matrix(blocks), pulls)

    def foretold(self, at: Figures, step: Figures) -> list[Figures]:
        """Return the pulls after ``step`` (nodes, 3) as lengths along each bar alone change it."""
        found = []
        for bars in self.bars:
            vector = bars.vectors(at)
            length = _lengths(vector)
            longer = np.einsum("nd,nd->n", vector, bars.vectors(step)) / length
            found.append(bars.pull(length + longer)[0])
        return found

    def pressed(self, at: Figures) -> Figures:
        """Return the newtons with which the bottom bears each node."""
        return _push(at[:, 2])[0] * self.bottom

    def drag(self, at: Figures) -> Figures:
        """Return the newtons (nodes, 3) of the stream alone."""
        force = np.zeros_like(at)
        for bars in self.bars:
            vector = bars.vectors(at)
            toward = vector / _lengths(vector)[:, None]
            on_bars = drag(bars, toward, self.speed)[0]
            np.add.at(force, bars.nodes, bars.shares[:, :, None] * on_bars[:, None, :])
        return force

    def _work(
        self, at: Figures, blocks: list[Figures] | None, held: Sequence[Figures] | None = None
    ) -> tuple[Figures, list[Figures]]:
        force = self.fixed.copy()
        pulls = []
        for i, bars in enumerate(self.bars):
            vector = bars.vectors(at)
            length = _lengths(vector)
            toward = vector / length[:, None]
            pull, slope = bars.pull(length)
            pulls.append(pull)
            stream, turning = drag(bars, toward, self.speed)
            stream[:, 2] -= bars.metres * bars.heavy
            on_nodes = -bars.weights[:, :, None] * (pull[:, None] * toward)[:, None, :]
            on_nodes += bars.shares[:, :, None] * stream[:, None, :]
            np.add.at(force, bars.nodes, on_nodes)
            if blocks is not None:
                turned = (np.eye(3) - toward[:, :, None] * toward[:, None, :]) / length[
                    :, None, None
                ]
                resists = pull if held is None else held[i]
                stiff = (
                    slope[:, None, None] * toward[:, :, None] * toward[:, None, :]
                    + np.maximum(resists, 0.0)[:, None, None] * turned
                )
                lag = turning @ turned
                each = np.einsum("ni,nj,nab->niajb", bars.weights, bars.weights, stiff)
                each -= np.einsum("ni,nj,nab->niajb", bars.shares, bars.weights, lag)
                blocks.append(each.ravel())
        hangers = self.hangers
        on_tops, slopes = hangers.pull(at[hangers.nodes, 2])
        on_nodes = np.zeros((len(hangers.nodes), 3))
        on_nodes[:, 0], on_nodes[:, 2] = on_tops[:, 0], -on_tops[:, 1]
        np.add.at(force, hangers.nodes, on_nodes)
        push, softer = _push(at[:, 2])
        push, softer = push * self.bottom, softer * self.bottom
        force[:, 2] += push
        force[:, 0] += self.rubs * push * (self.speed > 0)
        if blocks is not None:
            blocks += [-slopes[:, 0], slopes[:, 1]]
            blocks += [softer, self.rubs * softer * (self.speed > 0)]
        return force, pulls


def _lengths(vectors: Figures) -> Figures:
    """Return the lengths of ``vectors`` (n, 3), none of them quite nothing."""
    return np.asarray(np.sqrt(np.einsum("nd,nd->n", vectors, vectors) + _TINY))


def _push(up: Figures) -> tuple[Figures, Figures]:
    """Return the bottom's push on nodes ``up`` metres high, and by how much it falls a metre."""
    root = np.sqrt(up**2 + SOFT**2)
    return PRESSED * (root - up) / 2, PRESSED * (1 - up / root) / 2


class _Pattern:
    """Where the blocks of a System's slopes go in one sparse matrix."""

    def __init__(self, free: NDArray[np.bool_], sorts: Sequence[Places], hung: Places) -> None:
        ways = np.full(free.shape, -1, dtype=np.intp)
        ways[free] = np.arange(int(free.sum()))
        self.size = int(free.sum())
        rows, columns = [], []
        for nodes in sorts:
            of = ways[nodes]  # (n, k, 3)
            n, k, __ = of.shape
            rows.append(np.broadcast_to(of[:, :, :, None, None], (n, k, 3, k, 3)).ravel())
            columns.append(np.broadcast_to(of[:, None, None, :, :], (n, k, 3, k, 3)).ravel())
        for over, way in ((0, 2), (2, 2)):
            rows.append(ways[hung, over])
            columns.append(ways[hung, way])
        for over, way in ((2, 2), (0, 2)):
            rows.append(ways[:, over])
            columns.append(ways[:, way])
        row, column = np.concatenate(rows), np.concatenate(columns)
        self._inside = (row >= 0) & (column >= 0)
        keys = column[self._inside] * self.size + row[self._inside]
        unique, self._into = np.unique(keys, return_inverse=True)
        self._indices = unique % self.size
        self._starts = np.searchsorted(unique // self.size, np.arange(self.size + 1))

    def matrix(self, blocks: list[Figures]) -> Any:
        """Return the sparse matrix of ``blocks``, in the order in which they were laid out."""
        from scipy.sparse import csc_matrix

        values = np.concatenate(blocks)[self._inside]
        data = np.bincount(self._into, weights=values, minlength=len(self._indices))
        return csc_matrix((data, self._indices, self._starts), shape=(self.size, self.size))


# A net that is tried with other weights and lengths has the same pattern each time.
@lru_cache(maxsize=16)
def _pattern(
    shape: tuple[int, ...], free: bytes, sorts: tuple[_Packed, ...], hung: bytes
) -> _Pattern:
    return _Pattern(
        np.frombuffer(free, dtype=np.bool_).reshape(shape),
        [np.frombuffer(data, dtype=np.intp).reshape(size) for size, data in sorts],
        np.frombuffer(hung, dtype=np.intp),
    )
