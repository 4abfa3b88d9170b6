"""Nets that may be out there: ropes and all that is unknown drawn by a fixed seed."""

from dataclasses import replace
from functools import lru_cache
from typing import NamedTuple

import numpy as np

from rigs.physics.flight import Beliefs, Flown, NotAtRest, believe
from rigs.physics.flight.believed import pull_up
from rigs.words.gear import Rig
from rigs.words.units import INCH

from .nets import DROP, TOLD, net

COUNT = 36
LOW, HIGH = 6 * INCH, 0.9 * DROP
_SEED = 1986
_MOST = 4 * COUNT  # draws
_SLOPE = 1.6  # metres for one standard deviation of what pulls up, about


class Sampled(NamedTuple):
    """A net that flies: its rig, what is believed of it as if it were known, and its flight."""

    rig: Rig
    beliefs: Beliefs
    flown: Flown


def mean_height(flown):
    return np.mean([point.up for point in flown.points])


def _drawn(rng):
    """Return a Sampled net that flies within its droppers' reach, None if this draw does not."""
    foot = int(rng.integers(50, 91))
    head = foot - int(rng.integers(5, 16))
    rig = net(foot, head, bosom=int(rng.integers(foot // 5, foot // 3)), floats=foot // 5)
    beliefs = believe(rig, TOLD)
    offs = np.clip(rng.standard_normal(len(beliefs.offs)), -2.0, 2.0)
    goal = rng.uniform(16, 26) * INCH
    up = pull_up(beliefs)
    offs[up] = 0.2
    flown = None
    for __ in range(5):
        try:
            flown = beliefs.fly(rig, flown, offs=offs)
        except NotAtRest:
            return None
        miss = goal - mean_height(flown)
        if abs(miss) < 2 * INCH:
            break
        offs[up] += miss / _SLOPE
    if not all(LOW <= point.up <= HIGH for point in flown.points):
        return None
    return Sampled(rig, replace(beliefs, offs=offs, _flights={rig: flown}), flown)


@lru_cache(maxsize=1)
def sampled():
    """Return the first COUNT nets drawn that fly within their droppers' reach."""
    rng = np.random.default_rng(_SEED)
    found = []
    for draw in range(_MOST):
        each = _drawn(rng)
        if each is not None:
            found.append(each)
        if len(found) == COUNT:
            return tuple(found), draw + 1
    return tuple(found), _MOST
