"""
What the sweep costs or brings: paired comparison tows, with and without it.

Each pair is two tows alike in all but the sweep (same vessel, ground, day and towing
time), with the catch of one group of species in each. Catches are compared as a ratio:
0.4 means that without the sweep the net took four tenths of what it took with it.

Sources, from memory: Student (1908) for the paired t; Wilcoxon (1945) for the signed
ranks; Efron (1979) for the bootstrap.
"""

from collections.abc import Hashable, Sequence
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from rigs.words.say import gettext as _

from .arrays import Figures
from .interval import CONFIDENCE, Interval, tail

# Common practice, no source: fewer pairs make a poor argument on a dock.
ENOUGH_PAIRS = 10
RESAMPLES = 4000


class Pair(NamedTuple):
    """
    The catch of one group of species in two paired tows, both in one unit (kg, count).

    ``vessel`` says whose pair it is: pairs of one vessel are alike, and the bootstrap
    draws whole vessels. None stands for a vessel of its own.
    """

    without_sweep: float
    with_sweep: float
    vessel: Hashable | None = None


@dataclass(frozen=True, slots=True)
class PairedT:
    """
    A paired t test: do differences average nought?

    ``mean`` of the differences and ``interval`` in their unit, ``t`` on ``freedom``
    degrees, two-sided ``p``. ``t`` and ``p`` are None when all differences are alike.
    """

    mean: float
    interval: Interval
    t: float | None
    freedom: int
    p: float | None


def paired_t(differences: ArrayLike, confidence: float = CONFIDENCE) -> PairedT:
    """
    Return the PairedT of ``differences``.

    Raises ValueError for fewer than two.
    """
    from scipy.special import stdtr, stdtrit

    values = np.asarray(differences, dtype=float)
    if len(values) < 2:
        raise ValueError(_("A paired test needs at least two pairs."))
    freedom = len(values) - 1
    mean = float(values.mean())
    # Alike up to rounding is alike: a spread made of rounding would make any t.
    if np.ptp(values) <= 1e-12 * np.abs(values).max():
        return PairedT(mean, Interval(mean, mean), None, freedom, None)
    error = float(values.std(ddof=1) / np.sqrt(len(values)))
    half = error * float(stdtrit(freedom, 1 - tail(confidence)))
    t = mean / error
    p = 2 * float(stdtr(freedom, -abs(t)))
    return PairedT(mean, Interval(mean - half, mean + half), t, freedom, p)


def signed_rank_p(differences: ArrayLike) -> float | None:
    """
    Return the two-sided p of Wilcoxon's signed ranks, None if no difference is left.

    Pairs without a difference are set aside. The p is exact for up to fifty pairs
    without ties, the normal approximation, corrected for continuity, otherwise.
    """
    from scipy.stats import wilcoxon

    # To nine decimals, so that ties are not lost to rounding: 4.4 - 3.4 is 1.
    values = np.round(np.asarray(differences, dtype=float), 9)
    values = values[values != 0]
    if not len(values):
        return None
    tied = len(np.unique(np.abs(values))) < len(values)
    method = "exact" if len(values) <= 50 and not tied else "approx"
    return float(wilcoxon(values, correction=True, method=method).pvalue)


@dataclass(frozen=True, slots=True)
class Comparison:
    """
    The catch of one group without the sweep, as a ratio of that with it.

    ``ratio`` is the geometric mean of the pairs' ratios and ``interval`` its interval,
    from a paired t on their logarithms, ``p`` that test's; they use only the ``used``
    pairs in which both tows took something (None with fewer than two of them).
    ``total_ratio`` is the ratio of all catches together, nothings included, and
    ``total_interval`` its bootstrap interval over vessels; None when nothing was caught
    with the sweep, or, the interval, when there are fewer than two vessels.
    ``rank_p`` is of Wilcoxon's signed ranks of the differences, nothings included.
    ``enough`` says whether there are enough pairs to quote to others.
    """

    pairs: int
    used: int
    vessels: int
    ratio: float | None
    interval: Interval | None
    p: float | None
    total_ratio: float | None
    total_interval: Interval | None
    rank_p: float | None

    @property
    def left_out(self) -> int:
        """Pairs in which one of the tows took nothing: they have no ratio."""
        return self.pairs - self.used

    @property
    def enough(self) -> bool:
        return self.pairs >= ENOUGH_PAIRS


def compare(
    pairs: Sequence[Pair], seed: int, resamples: int = RESAMPLES, confidence: float = CONFIDENCE
) -> Comparison:
    """
    Return the Comparison of ``pairs``. The same ``seed`` gives the same bootstrap.

    Limits: the t interval takes all pairs as independent, also those of one vessel; the
    bootstrap does not, but needs some ten vessels to be worth much.

    Raises ValueError without pairs and for a catch below nought or that is no number.
    """
    if not pairs:
        raise ValueError(_("There are no paired tows to compare."))
    catches = np.array([(pair.without_sweep, pair.with_sweep) for pair in pairs], dtype=float)
    if not ((catches >= 0) & np.isfinite(catches)).all():
        raise ValueError(_("A catch is a number from 0 up."))
    both = catches[(catches > 0).all(axis=1)]
    test = None
    if len(both) >= 2:
        test = paired_t(np.log(both[:, 0]) - np.log(both[:, 1]), confidence)
    sums = _sums_by_vessel(pairs, catches)
    without, with_sweep = catches.sum(axis=0)
    return Comparison(
        pairs=len(pairs),
        used=len(both),
        vessels=len(sums),
        ratio=float(np.exp(test.mean)) if test else None,
        interval=Interval(*map(float, np.exp(test.interval))) if test else None,
        p=test.p if test else None,
        total_ratio=float(without / with_sweep) if with_sweep else None,
        total_interval=total_ratio_interval(sums, seed, resamples, confidence),
        rank_p=signed_rank_p(catches[:, 0] - catches[:, 1]),
    )


def _sums_by_vessel(pairs: Sequence[Pair], catches: Figures) -> Figures:
    sums: dict[Hashable, Figures] = {}
    for number, (pair, catch) in enumerate(zip(pairs, catches, strict=True)):
        # A tuple, so that no vessel's own name can be taken for a pair's number.
        key = ("pair", number) if pair.vessel is None else ("vessel", pair.vessel)
        sums[key] = sums.get(key, 0) + catch
    return np.array(list(sums.values()))


def total_ratio_interval(
    sums: Figures, seed: int, resamples: int = RESAMPLES, confidence: float = CONFIDENCE
) -> Interval | None:
    """
    Return the percentile bootstrap interval of a ratio of totals.

    ``sums`` has one row a vessel: its catches without and with the sweep. Whole vessels
    are drawn again by chance. None for fewer than two vessels, or when the interval's
    upper end has no bound because too many draws caught nothing with the sweep.
    """
    if len(sums) < 2:
        return None
    rng = np.random.default_rng(seed)
    draws = rng.integers(0, len(sums), (resamples, len(sums)))
    without, with_sweep = sums[draws].sum(axis=1).T
    # A draw without catch under the sweep has no ratio: count it as without bound.
    ratios = np.full(resamples, np.inf)
    np.divide(without, with_sweep, out=ratios, where=with_sweep > 0)
    end = tail(confidence)
    highest_needed = int(np.ceil((resamples - 1) * (1 - end)))
    if np.isinf(np.sort(ratios)[highest_needed]):
        return None
    low, high = np.quantile(ratios, (end, 1 - end))
    return Interval(float(low), float(high))
