"""
The ratio of two sums of which each source of chance gives a part: a vessel, or a tow.

The line through nought fitted to the parts, with a variance that grows with the lower one
(Cochran, Sampling Techniques, 1977, chapter 6: the ratio estimator). Its variance is taken
from the sources' distances to that line, each lifted for its pull on it (Royall and
Cumberland, JASA 76, 1981; Bell and McCaffrey, Survey Methodology 28, 2002, for clusters),
and Student's t has the degrees of freedom that go with their sizes (Satterthwaite,
Biometrics Bulletin 2, 1946, as Bell and McCaffrey use it). All is reckoned on the logarithm.
All from memory.
"""

from dataclasses import dataclass
from enum import Enum
from math import exp, inf, log, sqrt

import numpy as np

from .arrays import Figures
from .interval import CONFIDENCE, Interval, tail


class Unknown(Enum):
    """Why there is no interval."""

    NOTHING = "both sums are nothing"
    NONE_BELOW = "the lower sum is nothing"
    NONE_ABOVE = "the upper sum is nothing"
    ONE_SOURCE = "one source gives all of the lower sum"
    ALIKE = "all sources have the same ratio"


@dataclass(frozen=True, slots=True)
class LogRatio:
    """A ratio's natural logarithm with its standard ``error`` and degrees of ``freedom``."""

    value: float
    error: float
    freedom: float

    def interval(self, confidence: float = CONFIDENCE) -> Interval:
        """Return the Interval of the ratio itself, with the same chance left out at each end."""
        end = tail(confidence)
        return self.between(end, end)

    def between(self, below: float, above: float) -> Interval:
        """Return its Interval with these chances left out ``below`` and ``above``."""
        from scipy.special import stdtrit

        low, high = (self.error * float(stdtrit(self.freedom, 1 - end)) for end in (below, above))
        return Interval(_exp(self.value - low), _exp(self.value + high))

    @property
    def p(self) -> float:
        """Two-sided, of no difference: below 0.05 where the interval leaves out 1."""
        from scipy.special import stdtr

        return 2 * float(stdtr(self.freedom, -abs(self.value) / self.error))


def _exp(value: float) -> float:
    return exp(value) if value < 700 else inf  # beyond that no number has room


def log_ratio(sums: Figures) -> LogRatio | Unknown:
    """
    Return the LogRatio of the totals of ``sums``, or why there is none.

    ``sums`` has a row for each source of chance: its parts of the upper and the lower sum.
    """
    upper, lower = sums.T
    total, total_below = float(upper.sum()), float(lower.sum())
    if not total and not total_below:
        return Unknown.NOTHING
    if not total_below:
        return Unknown.NONE_BELOW
    if not total:
        return Unknown.NONE_ABOVE
    pull = lower / total_below
    if pull.max() > 1 - 1e-9:
        return Unknown.ONE_SOURCE
    apart = upper - total * pull
    # Alike up to rounding is alike: a spread made of rounding would prove anything.
    if np.abs(apart).max() <= 1e-9 * total:
        return Unknown.ALIKE
    error = sqrt(float((apart**2 / (1 - pull)).sum())) / total
    return LogRatio(log(total / total_below), error, _freedom(pull))


def _freedom(pull: Figures) -> float:
    """
    Return Satterthwaite's degrees of freedom for sources of such shares in the lower sum.

    The squares' sum is a sum of chi-squares; their mean is 1 and this is 2 mean^2 / variance,
    written out for a variance that grows with the share. Sources alike have one less than
    there are of them.
    """
    lifted = pull**2 / (1 - pull)
    return 1 / float((pull**2).sum() + lifted.sum() ** 2 - (lifted**2).sum())
