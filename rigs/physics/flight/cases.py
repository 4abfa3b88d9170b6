"""
How sure a change is: nets that may be this one, each flown before and after it.

A case is one net out of all that is believed, with what pulls it up set so that it flies as
was read, give or take what a reading is good to. A change's spread is what it does in these
cases, not a sum of bounds. The cases of one net are drawn by a fixed seed: the same change
has the same spread each time.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from rigs.words.gear import Rig
from rigs.words.say import gettext_lazy

from .bars import Figures
from .believed import FARTHEST, Beliefs, pull_up
from .flown import POINTS, Flown, Point
from .solve import NotAtRest

COUNT = 20
"""Cases of a net. Of so many, the lowest but one to the highest but one hold nine in ten."""
NOTHING = 0.0127
"""Metres, half an inch: a change smaller than this is none that anybody would see."""

UNSURE = gettext_lazy("Too few nets like this one come to a steady flight to say how sure that is.")

_SEED = 16
_DRAWS = 2 * COUNT  # at most; a net that does not fly at all is drawn again
_CORRECTIONS = 3
_NEAR = 0.015  # metres from what was read, near enough for one case
_LEAST_SLOPE = 0.2  # metres for one standard deviation of what pulls up


class Span(NamedTuple):
    """A figure in metres over all cases: the ``low`` and ``high`` that hold nine in ten."""

    low: float
    high: float

    @classmethod
    def of(cls, values: Sequence[float]) -> "Span":
        """Return the Span of ``values``, one a case: the outermost twentieth left out each way."""
        low, high = np.quantile(np.array(values), (0.05, 0.95))
        return cls(float(low), float(high))


class Spread(NamedTuple):
    """
    One of POINTS over all cases, in metres.

    ``before`` and ``after`` are Spans of its height, ``change`` that of how far it goes up.
    ``rises``, ``sinks`` and ``lies`` count the cases in which it rises or sinks by more than
    NOTHING, or lies on the bottom afterward; ``of`` is how many cases there are, ``lost`` how
    many of them come to no steady flight afterward, of which nothing else is told.
    """

    name: str
    before: Span
    after: Span
    change: Span
    rises: int
    sinks: int
    lies: int
    of: int
    lost: int = 0

    @property
    def still(self) -> int:
        """In how many cases it hardly moves."""
        return self.of - self.lost - self.rises - self.sinks


class Case(NamedTuple):
    """A net by its unknowns ``offs``, and how it is ``flown`` before the change."""

    offs: Figures
    flown: Flown


@dataclass(frozen=True)
class Cases:
    """Nets that may be this one, flown with the rig ``before``."""

    beliefs: Beliefs
    before: Rig
    each: tuple[Case, ...]

    def pairs(self, rig: Rig) -> list[tuple[tuple[Point, ...], tuple[Point, ...]]]:
        """
        Return the POINTS of each case before and after going over to ``rig``, those that fly.

        Raise solve.NotAtRest if less than half of the cases fly with it.
        """
        found = []
        for case in self.each:
            try:
                after = self.beliefs.fly(rig, case.flown, offs=case.offs).points
            except NotAtRest:
                continue
            found.append((case.flown.points, after))
        if len(found) < len(self.each) / 2:
            raise NotAtRest(UNSURE)
        return found

    def after(self, rig: Rig) -> tuple[Spread, ...]:
        """
        Return what going over to ``rig`` does at POINTS, port to starboard.

        Raise what ``pairs`` raises.
        """
        pairs = self.pairs(rig)
        found = []
        for i, name in enumerate(POINTS):
            before = [old[i].up for old, __ in pairs]
            after = [new[i].up for __, new in pairs]
            change = [new - old for old, new in zip(before, after, strict=True)]
            found.append(
                Spread(
                    name=name,
                    before=Span.of(before),
                    after=Span.of(after),
                    change=Span.of(change),
                    rises=sum(each > NOTHING for each in change),
                    sinks=sum(each < -NOTHING for each in change),
                    lies=sum(new[i].lies for __, new in pairs),
                    of=len(self.each),
                    lost=len(self.each) - len(pairs),
                )
            )
        return tuple(found)


def draw(beliefs: Beliefs, before: Rig) -> Cases:
    """
    Return the Cases of ``beliefs``, flown with the rig ``before``.

    Raise solve.NotAtRest if hardly any flies.
    """
    rng = np.random.default_rng(_SEED)
    root = np.linalg.cholesky(beliefs.left + 1e-12 * np.eye(len(beliefs.offs)))
    likely = beliefs.flown(before)
    found: list[Case] = []
    for __ in range(_DRAWS):
        off = root @ rng.standard_normal(len(beliefs.offs))
        noise = float(rng.standard_normal())
        try:
            offs = np.clip(beliefs.offs + off, -FARTHEST, FARTHEST)
            offs, start = _as_read(beliefs, offs, noise, likely)
            flown = beliefs.fly(before, start, offs=offs)
        except NotAtRest:
            continue
        found.append(Case(offs, flown))
        if len(found) == COUNT:
            break
    if len(found) < COUNT / 2:
        raise NotAtRest(UNSURE)
    return Cases(beliefs, before, tuple(found))


def _as_read(beliefs: Beliefs, offs: Figures, noise: float, start: Flown) -> tuple[Figures, Flown]:
    """
    Return ``offs`` with what pulls up set so that the net flies as was read last, and how it flies.

    ``noise`` is how many standard deviations of the readings it is off that. What is read is
    bent: a straight line from the likely net would let some cases lie on the bottom, and others
    fly out of reach of their droppers, which the reading rules out.
    """
    if not beliefs.evidence:
        return offs, start
    seen = beliefs.evidence[-1]
    up = pull_up(beliefs)
    for __ in range(_CORRECTIONS):
        start = flown = beliefs.fly(seen.rig, start, offs=offs, speed=seen.speed)
        misses, slopes = [], []
        for reading in seen.readings:
            miss = reading.up + noise * reading.spread - reading.of(flown)
            if reading.at_least and miss <= 0:
                continue
            slope = beliefs.slopes(
                flown, reading.places(seen.rig), offs=offs, speed=seen.speed, only=[up]
            )
            misses.append(miss)
            slopes.append(float(slope.mean()))
        if not misses or abs(sum(misses) / len(misses)) < _NEAR:
            break
        step = sum(misses) / max(sum(slopes), len(slopes) * _LEAST_SLOPE)
        offs = offs.copy()
        offs[up] = np.clip(offs[up] + np.clip(step, -1.0, 1.0), -FARTHEST, FARTHEST)
    return offs, start
