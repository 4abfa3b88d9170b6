"""
What the sweep costs or brings: paired comparison tows, with and without it.

Each pair is two tows alike in all but the sweep (same vessel, ground, day and towing
time), with the catch of one group of species in each. Catches are compared as the ratio
of all of them together: 0.4 means that without the sweep the nets took four tenths of
what they took with it.

What is estimated is the ratio of the catches to be expected, of vessels like these with
as many pairs as these made. A vessel is one source of chance, however many pairs it made:
its tows are alike. All comes from one line through nought, fitted to the vessels' sums
with a variance that grows with the catch (Cochran, Sampling Techniques, 1977, chapter 6:
the ratio estimator). Its variance is taken from the vessels' distances to that line, each
lifted for its pull on it (Royall and Cumberland, JASA 76, 1981; Bell and McCaffrey,
Survey Methodology 28, 2002, for clusters), and Student's t has the degrees of freedom
that go with the sizes of the vessels (Satterthwaite, Biometrics Bulletin 2, 1946, as Bell
and McCaffrey use it). The interval is reckoned on the logarithm. All from memory.

``python -m tests.benchmarks.paired`` counts how often it holds the truth: 93 to 97 times in
100 over likely fleets of 6 to 30 vessels, but 92 where large vessels have other ratios than
small ones, and 90 where that is strong: the few that matter most are seldom in the fleet.
"""

from collections.abc import Hashable, Sequence
from dataclasses import dataclass
from enum import Enum
from math import exp, inf, log, sqrt
from typing import NamedTuple

import numpy as np

from rigs.words.say import gettext as _

from .arrays import Figures
from .interval import CONFIDENCE, Interval, tail

# Common practice, no source: fewer pairs make a poor argument on a dock.
ENOUGH_PAIRS = 10
# The fewest for which the benchmark shows that the interval keeps its promise.
ENOUGH_VESSELS = 6


class Pair(NamedTuple):
    """
    The catch of one group of species in two paired tows, both in one unit (kg, count).

    ``vessel`` says whose pair it is. None stands for a vessel of its own.
    """

    without_sweep: float
    with_sweep: float
    vessel: Hashable | None = None


class Unknown(Enum):
    """Why there is no interval."""

    NOTHING = "nothing caught"
    NONE_WITH = "nothing caught with the sweep"
    NONE_WITHOUT = "nothing caught without the sweep"
    ONE_VESSEL = "one vessel caught all there was with the sweep"
    ALIKE = "all vessels have the same ratio"


@dataclass(frozen=True, slots=True)
class LogRatio:
    """A ratio's natural logarithm with its standard ``error`` and degrees of ``freedom``."""

    value: float
    error: float
    freedom: float

    def interval(self, confidence: float = CONFIDENCE) -> Interval:
        """Return the Interval of the ratio itself."""
        from scipy.special import stdtrit

        reach = self.error * float(stdtrit(self.freedom, 1 - tail(confidence)))
        return Interval(_exp(self.value - reach), _exp(self.value + reach))

    @property
    def p(self) -> float:
        """Two-sided, of no difference: below 0.05 where the interval leaves out 1."""
        from scipy.special import stdtr

        return 2 * float(stdtr(self.freedom, -abs(self.value) / self.error))


def _exp(value: float) -> float:
    return exp(value) if value < 700 else inf  # beyond that no number has room


@dataclass(frozen=True, slots=True)
class Comparison:
    """
    The catch of one group without the sweep, as a ratio of that with it.

    ``pairs`` counts those in which either tow caught some, ``vessels`` the vessels that
    made them: others say nothing of the ratio. ``none_without`` and ``none_with`` count the
    pairs of these whose one tow took nothing. ``ratio`` is of all catches together, None if
    nothing was caught with the sweep. ``interval`` is None where ``unknown`` says why. ``p``
    is of no difference: with an interval it agrees with it; where one way of towing took
    nothing at all it is that of a sign test over the vessels, all of one sign; else None.
    """

    pairs: int
    vessels: int
    none_without: int
    none_with: int
    ratio: float | None
    interval: Interval | None
    p: float | None
    unknown: Unknown | None

    @property
    def enough(self) -> bool:
        """Whether there are enough pairs and vessels in it to quote to others."""
        return self.pairs >= ENOUGH_PAIRS and self.vessels >= ENOUGH_VESSELS


def compare(pairs: Sequence[Pair], confidence: float = CONFIDENCE) -> Comparison:
    """
    Return the Comparison of ``pairs``.

    Raises ValueError without pairs and for a catch below nought or that is no number.
    """
    if not pairs:
        raise ValueError(_("There are no paired tows to compare."))
    catches = np.array([(pair.without_sweep, pair.with_sweep) for pair in pairs], dtype=float)
    if not ((catches >= 0) & np.isfinite(catches)).all():
        raise ValueError(_("A catch is a number from 0 up."))
    sums = _sums_by_vessel(pairs, catches)
    found = log_ratio(sums)
    without, with_sweep = catches.sum(axis=0)
    is_told = catches.any(axis=1)
    none_without, none_with = (catches[is_told] == 0).sum(axis=0)
    known, unknown = (found, None) if isinstance(found, LogRatio) else (None, found)
    return Comparison(
        pairs=int(is_told.sum()),
        vessels=len(sums),
        none_without=int(none_without),
        none_with=int(none_with),
        ratio=float(without / with_sweep) if with_sweep else None,
        interval=known.interval(confidence) if known else None,
        p=known.p if known else _sign_p(unknown, len(sums)),
        unknown=unknown,
    )


def _sums_by_vessel(pairs: Sequence[Pair], catches: Figures) -> Figures:
    """Return a row for each vessel that caught something: without and with the sweep."""
    sums: dict[Hashable, Figures] = {}
    for number, (pair, catch) in enumerate(zip(pairs, catches, strict=True)):
        # A tuple, so that no vessel's own name can be taken for a pair's number.
        key = ("pair", number) if pair.vessel is None else ("vessel", pair.vessel)
        sums[key] = sums.get(key, 0) + catch
    return np.array([each for each in sums.values() if each.any()]).reshape(-1, 2)


def log_ratio(sums: Figures) -> LogRatio | Unknown:
    """
    Return the LogRatio of the totals of ``sums``, or why there is none.

    ``sums`` has a row for each vessel: its catches without and with the sweep.
    """
    without, with_sweep = sums.T
    total, total_with = float(without.sum()), float(with_sweep.sum())
    if not total and not total_with:
        return Unknown.NOTHING
    if not total_with:
        return Unknown.NONE_WITH
    if not total:
        return Unknown.NONE_WITHOUT
    pull = with_sweep / total_with
    if pull.max() > 1 - 1e-9:
        return Unknown.ONE_VESSEL
    apart = without - total * pull
    # Alike up to rounding is alike: a spread made of rounding would prove anything.
    if np.abs(apart).max() <= 1e-9 * total:
        return Unknown.ALIKE
    error = sqrt(float((apart**2 / (1 - pull)).sum())) / total
    return LogRatio(log(total / total_with), error, _freedom(pull))


def _freedom(pull: Figures) -> float:
    """
    Return Satterthwaite's degrees of freedom for vessels of such shares in the catch.

    The squares' sum is a sum of chi-squares; their mean is 1 and this is 2 mean^2 / variance,
    written out for a variance that grows with the catch. Vessels alike have one less than
    there are vessels.
    """
    lifted = pull**2 / (1 - pull)
    return 1 / float((pull**2).sum() + lifted.sum() ** 2 - (lifted**2).sum())


def _sign_p(why: Unknown | None, vessels: int) -> float | None:
    """
    Return the two-sided p of a sign test if all ``vessels`` are of one sign, else None.

    If the sweep made no difference, either tow would be as likely to catch more.
    """
    if why not in (Unknown.NONE_WITH, Unknown.NONE_WITHOUT):
        return None
    return min(1.0, 2 * 0.5**vessels)
