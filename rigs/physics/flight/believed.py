"""
What is believed of a net that was never weighed: a likely net, and how far it may be off.

Each unknown is counted in its own standard deviations. What has been read of the net moves
the beliefs that the reading can tell apart, and leaves the others as they were: of the
readings' slopes over the unknowns, scaled by how exactly each is known, those directions
count whose singular value is above ``SEEN``. One shine sets one number: what pulls up, all
in all.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import NamedTuple

import numpy as np

from rigs.physics.practice import FOOTROPE_HEIGHT
from rigs.words.gear import Rig

from .bars import Figures
from .built import PAGE, Grid, build
from .flown import Flown, fly, positions
from .laid import Cut
from .solve import NotAtRest
from .unknowns import Guess, Told, Unknown, drawn, likely, unknowns

SEEN = 1.0
"""A direction whose singular value is above this is told by the readings rather than by what
was believed before."""
NINE_IN_TEN = 1.645
"""Standard deviations within which nine in ten of what is normally spread lie."""

_OFF = 1e-6
"""Standard deviations by which an unknown is moved to see what it does: so few that no bar
gets from slack to taut by it."""

FARTHEST = 4.0  # standard deviations beyond which nothing is believed
_ROUNDS = 8
_REMEMBERED = 8  # flights of one net: somebody tries one change after the other
_SETTLED = 3e-3  # metres by which the readings may still move when fitting ends


class Reading(NamedTuple):
    """
    The footrope's height read at ``position``: ``up`` metres, good to ``spread`` (one sd).

    No position means the bosom, from corner to corner. ``at_least`` says that the dropper there
    showed no shine, so that ``up`` is only a bound.
    """

    position: float | None
    up: float
    spread: float
    at_least: bool = False

    def of(self, flown: Flown) -> float:
        """Return the height in metres that ``flown`` has where this was read."""
        return float(np.mean([flown.up(each) for each in self.places(flown.rig)]))

    def places(self, rig: Rig) -> tuple[float, ...]:
        """Return the places along the footrope of ``rig`` that it tells of."""
        return positions(rig)[1:-1] if self.position is None else (self.position,)


class Seen(NamedTuple):
    """What was read of ``rig`` towed at ``speed`` through the water, m/s; None: as was told."""

    rig: Rig
    readings: tuple[Reading, ...]
    speed: float | None = None


@dataclass(frozen=True)
class Beliefs:
    """
    What is believed of a net.

    ``cut_for`` is the rig that its netting was cut for. ``offs`` are the unknowns, in
    standard deviations from the likely, and ``left`` their covariance, in the same.
    ``evidence`` is what they rest on, ``numbers`` how many it could set, and ``read`` the flight
    of what was read last, from which others start: so what is asked before changes no answer.
    """

    cut_for: Rig
    told: Told
    grid: Grid
    offs: Figures
    left: Figures
    evidence: tuple[Seen, ...] = ()
    numbers: int = 0
    read: Flown | None = field(default=None, repr=False, compare=False)
    _flights: dict[Rig, Flown] = field(default_factory=dict, repr=False, compare=False)

    @cached_property
    def unknowns(self) -> tuple[Unknown, ...]:
        """What is not known exactly of this net."""
        return unknowns(self.cut_for, self.told)

    @property
    def by_custom(self) -> bool:
        """Whether it is only taken to fly as practice has it, since nothing was read of it."""
        return all(each.position is None for seen in self.evidence for each in seen.readings)

    @property
    def knows_heights(self) -> bool:
        """Whether a shine was read that sets a height: a bound sets none."""
        return any(
            each.position is not None and not each.at_least
            for seen in self.evidence
            for each in seen.readings
        )

    def guess(self, offs: Figures | None = None, speed: float | None = None) -> Guess:
        """Return the Guess believed, or that of ``offs``; ``speed`` stands in for that told."""
        told = self.told if speed is None else replace(self.told, speed=speed)
        values = (self.offs if offs is None else offs).tolist()
        named = dict(zip([each.name for each in self.unknowns], values, strict=True))
        return drawn(likely(self.cut_for, told), self.unknowns, named)

    def flown(self, rig: Rig) -> Flown:
        """Return ``rig`` in flight as believed; what raises is said at ``flown.fly``."""
        found = self._flights.get(rig)
        if found is None:
            if len(self._flights) >= _REMEMBERED:
                self._flights.clear()
            found = self._flights[rig] = self.fly(rig, self.read)
        return found

    def fly(
        self,
        rig: Rig,
        start: Flown | None = None,
        *,
        offs: Figures | None = None,
        speed: float | None = None,
    ) -> Flown:
        """Return ``rig`` in flight by ``guess(offs, speed)``, from ``start`` where that serves."""
        guess = self.guess(offs, speed)
        cut = Cut.typical(self.cut_for, guess)
        if start is not None:
            try:
                return fly(rig, guess, cut, self.grid, start)
            except NotAtRest:
                pass  # what is too far from there is still found from anew
        return fly(rig, guess, cut, self.grid)

    def slopes(
        self,
        flown: Flown,
        at: Iterable[float],
        *,
        offs: Figures | None = None,
        speed: float | None = None,
        only: Sequence[int] | None = None,
    ) -> Figures:
        """
        Return how heights of ``flown`` ``at`` places change with each unknown (places, unknowns).

        Metres for one standard deviation, about the net as it flies; ``only`` names the
        unknowns by their order, all if None.
        """
        from scipy.sparse.linalg import splu

        values = self.offs if offs is None else offs
        which = range(len(values)) if only is None else only
        system, free = flown.built.system, flown.built.system.free
        falling = splu(system.work(flown.at).slopes.tocsc())
        now = system.forces(flown.at)
        change = np.empty((int(free.sum()), len(which)))
        for column, i in enumerate(which):
            moved = values.copy()
            moved[i] += _OFF
            guess = self.guess(moved, speed)
            cut = Cut.typical(self.cut_for, guess)
            other = build(flown.rig, guess, cut, self.grid, half=flown.built.half)
            places = np.where(free, flown.at, other.start)
            change[:, column] = (other.system.forces(places) - now)[free] / _OFF
        moves = falling.solve(change)
        ways = np.cumsum(free.ravel()).reshape(free.shape) - 1
        return np.array(
            [
                sum(share * moves[ways[node, 2]] for node, share in flown.near(position))
                for position in at
            ]
        )


def believe(cut_for: Rig, told: Told, grid: Grid = PAGE) -> Beliefs:
    """Return the Beliefs of a net before anything of it is read or taken from practice."""
    count = len(unknowns(cut_for, told))
    return Beliefs(cut_for, told, grid, np.zeros(count), np.eye(count))


def custom(rig: Rig) -> Seen:
    """
    Return what practice has ``rig``, which hangs free of a sweep, fly at.

    As one reading of the bosom, nine in ten within the trade's range: no reading of this net,
    and no more than a place to begin from.
    """
    least, most = FOOTROPE_HEIGHT.low, FOOTROPE_HEIGHT.high
    return Seen(rig, (Reading(None, (least + most) / 2, (most - least) / 2 / NINE_IN_TEN),))


class _Row(NamedTuple):
    """One reading against the net as it flies: metres missed, their slopes, and its spread."""

    miss: float
    slopes: Figures
    spread: float


def fit(beliefs: Beliefs, evidence: Iterable[Seen]) -> Beliefs:
    """
    Return ``beliefs`` as they are after ``evidence``, in the directions it can tell apart.

    By Gauss and Newton's steps on what was believed and what was read. A reading that is only
    a bound counts where the net would fly below it. Raise what ``flown.fly`` raises.
    """
    groups = tuple(evidence)
    start = beliefs.offs
    root = np.linalg.cholesky(beliefs.left + 1e-12 * np.eye(len(start)))
    offs, flown = _flying(beliefs, groups)
    left, numbers, before = beliefs.left, 0, None
    for __ in range(_ROUNDS):
        flown = [
            beliefs.fly(group.rig, old, offs=offs, speed=group.speed)
            for group, old in zip(groups, flown, strict=True)
        ]
        rows = [
            row
            for group, each in zip(groups, flown, strict=True)
            for row in _rows(beliefs, group, each, offs)
        ]
        if not rows:
            break
        spreads = np.array([row.spread for row in rows])
        miss = np.array([row.miss for row in rows])
        slopes = np.array([row.slopes for row in rows]) / spreads[:, None] @ root
        sides, values, ways = np.linalg.svd(slopes, full_matrices=False)
        told = values > SEEN
        numbers = int(told.sum())
        kept = values[told] ** 2 / (1 + values[told] ** 2)
        toward = ways[told].T
        left = root @ (np.eye(len(start)) - toward @ np.diag(kept) @ toward.T) @ root.T
        same = before is not None and len(before) == len(miss)
        if same and float(np.abs(miss - before).max()) < _SETTLED:
            break
        before = miss
        was = np.linalg.solve(root, offs - start)
        target = sides[:, told].T @ (miss / spreads + slopes @ was)
        offs = np.clip(start + root @ toward @ (kept / values[told] * target), -FARTHEST, FARTHEST)
    return replace(
        beliefs,
        offs=offs,
        left=left,
        evidence=(*beliefs.evidence, *groups),
        numbers=numbers,
        read=flown[-1] if flown else None,
        _flights={},
    )


def _rows(beliefs: Beliefs, group: Seen, flown: Flown, offs: Figures) -> Iterable[_Row]:
    for reading in group.readings:
        miss = reading.up - reading.of(flown)
        if reading.at_least and miss <= 0:
            continue
        slopes = beliefs.slopes(flown, reading.places(group.rig), offs=offs, speed=group.speed)
        yield _Row(miss, slopes.mean(axis=0), reading.spread)


def _flying(beliefs: Beliefs, groups: Sequence[Seen]) -> tuple[Figures, list[Flown]]:
    """Return unknowns with which all of ``groups`` fly: a net that lies tells nothing of them."""
    offs, up = beliefs.offs.copy(), pull_up(beliefs)
    while True:
        flown = [beliefs.fly(group.rig, offs=offs, speed=group.speed) for group in groups]
        lies = any(point.lies for each in flown for point in each.points)
        if not lies or offs[up] >= FARTHEST:
            return offs, flown
        offs[up] += 0.25


def pull_up(beliefs: Beliefs) -> int:
    """Return the place among the unknowns of the one that a single shine sets."""
    return [each.name for each in beliefs.unknowns].index("pull_up")
