"""
What the sweep costs or brings: paired comparison tows, with and without it.

Each pair is two tows alike in all but the sweep (same vessel, ground, day and towing
time), with the catch of one group of species in each. Catches are compared as the ratio
of all of them together: 0.4 means that without the sweep the nets took four tenths of
what they took with it.

What is estimated is the ratio of the catches to be expected, of vessels like these with
as many pairs as these made. A vessel is one source of chance, however many pairs it made:
its tows are alike. ``sums`` says how, by whom.

``python -m tests.benchmarks.paired`` counts how often it holds the truth: 93 to 97 times in
100 over likely fleets of 6 to 30 vessels, but 92 where large vessels have other ratios than
small ones, and 90 where that is strong: the few that matter most are seldom in the fleet.
"""

from collections.abc import Hashable, Sequence
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from rigs.words.say import gettext as _

from .arrays import Figures
from .interval import CONFIDENCE, Interval
from .sums import LogRatio, Unknown, log_ratio

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


def _sign_p(why: Unknown | None, vessels: int) -> float | None:
    """
    Return the two-sided p of a sign test if all ``vessels`` are of one sign, else None.

    If the sweep made no difference, either tow would be as likely to catch more.
    """
    if why not in (Unknown.NONE_BELOW, Unknown.NONE_ABOVE):
        return None
    return min(1.0, 2 * 0.5**vessels)
