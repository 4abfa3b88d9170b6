"""
How far a figure that judges make on rigs would move with other rigs and other judges.

Both are samples: of rigs like these, and of judges like these. What one call adds to the
figure is its influence (the derivative of the figure by the weight of the call). The
influences summed by rig give the variance between rigs, those summed by judge the variance
between judges; their sum is the variance over both (Gwet, Psychometrika 73, 2008; Owen,
Annals of Applied Statistics 1, 2007, who shows that resampling both ways errs on the wide
side; both from memory). Student's t has the degrees of Satterthwaite, Biometrics Bulletin 2
(1946), and the interval is laid on the logit of where the figure lies between its lowest
and highest possible value, so that it passes neither. ``tests/benchmarks/kappa`` prints how
often it holds the truth.
"""

from dataclasses import dataclass
from enum import StrEnum
from math import exp, log, sqrt

import numpy as np

from .arrays import Figures
from .interval import CONFIDENCE, Interval, tail

# Of two judges one cannot tell how far a third would be from them.
FEWEST_JUDGES = 3

# A variance or a distance from an end below it is nought but for rounding.
NOTHING = 1e-18


class Lack(StrEnum):
    """Why a figure has no interval."""

    ONE_RIG = "one rig"
    TOP = "top"
    BOTTOM = "bottom"
    ALIKE = "alike"


@dataclass(frozen=True, slots=True)
class Reach:
    """
    How far a figure may lie from the truth.

    ``error`` is its standard error. ``others`` says that ``interval`` is for other judges
    on other rigs; else it is for these judges on other rigs. Without an interval ``lack``
    says why: there was one rig, the figure lies at its highest or lowest possible value, or
    no call moves it, so that nothing tells how others would differ.
    """

    interval: Interval | None
    error: float | None
    others: bool = False
    lack: Lack | None = None


@dataclass(frozen=True, slots=True)
class Spread:
    """A variance and its degrees of freedom; ``others`` as in Reach."""

    variance: float
    degrees: float
    others: bool = False


def spread(of_rigs: Figures, of_judges: Figures) -> Spread | None:
    """
    Return the Spread of a figure from the influence of each call on it.

    Both are arrays of judges by rigs: what a call adds when its rig is weighed, and when its
    judge is (they differ where judges are compared in pairs). With fewer than FEWEST_JUDGES
    it is over rigs, for these judges alone. Whatever the sums, the variance is not below that
    of as many calls which have nothing to do with each other: rigs that come out alike by
    luck do not make a figure sure. None for one rig.
    """
    judges, rigs = of_rigs.shape
    if rigs < 2:
        return None
    between_rigs = float((of_rigs.sum(axis=0) ** 2).sum()) * rigs / (rigs - 1)
    between_judges = 0.0
    others = judges >= FEWEST_JUDGES
    if others:
        between_judges = float((of_judges.sum(axis=1) ** 2).sum()) * judges / (judges - 1)
    by_call = of_judges if others else of_rigs
    variance = max(between_rigs + between_judges, float((by_call**2).sum()))
    parts = between_rigs**2 / (rigs - 1) + between_judges**2 / max(judges - 1, 1)
    degrees = rigs - 1 if parts == 0 else min(variance**2 / parts, rigs - 1)
    return Spread(variance, degrees, others)


def reach(
    value: float, found: Spread | None, lowest: float, confidence: float = CONFIDENCE
) -> Reach:
    """
    Return the Reach of ``value``, which can be from ``lowest`` to 1.

    ``found`` is its Spread, None if there was one rig. Raise ValueError unless
    0 < confidence < 1.
    """
    end = tail(confidence)
    if found is None:
        return Reach(None, None, lack=Lack.ONE_RIG)
    error, others = sqrt(max(found.variance, 0.0)), found.others
    share = (value - lowest) / (1 - lowest)
    if 1 - share < 1e-12:
        return Reach(None, error, others, Lack.TOP)
    if share < 1e-12:
        return Reach(None, error, others, Lack.BOTTOM)
    if found.variance < NOTHING:
        return Reach(None, error, others, Lack.ALIKE)
    from scipy.stats import t

    center = log(share / (1 - share))
    half = float(t.isf(end, found.degrees)) * error / (1 - lowest) / (share * (1 - share))
    low, high = (lowest + (1 - lowest) * _share(center + side * half) for side in (-1, 1))
    return Reach(Interval(low, high), error, others)


def _share(logit: float) -> float:
    """Return the share whose logit is ``logit``, however far out that lies."""
    return 1 / (1 + exp(-logit)) if logit > 0 else exp(max(logit, -700.0)) / (1 + exp(logit))


def share_reach(right: Figures, confidence: float = CONFIDENCE) -> Reach | None:
    """
    Return the Reach of the share of calls that are right, None if there is no call.

    ``right`` is an array of judges by rigs: 1, 0, or nan for a call left open.
    """
    made = ~np.isnan(right)
    made_of_rig = made.any(axis=0)
    right, made = right[:, made_of_rig], made[:, made_of_rig]
    if not made.any():
        return None
    value = float(right[made].mean())
    influence = np.where(made, right - value, 0.0) / made.sum()
    return reach(value, spread(influence, influence), 0.0, confidence)
