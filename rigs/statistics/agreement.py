"""
How often people who judge rigs agree with the rule module.

Shares carry two intervals.
"""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from rigs.words.say import gettext as _

from .interval import CONFIDENCE, Interval, clopper_pearson, z_value


@dataclass(frozen=True, slots=True)
class Share:
    """
    A count out of a number of trials.

    ``share`` and both intervals are fractions from 0 to 1, and None when there was
    no trial. ``wilson`` is the score interval (Wilson 1927), close to its nominal
    confidence on average; ``exact`` is Clopper and Pearson's (1934), never below it
    and therefore wider.
    """

    count: int
    of: int
    share: float | None
    wilson: Interval | None
    exact: Interval | None


def share(count: int, of: int, confidence: float = CONFIDENCE) -> Share:
    """
    Return the Share of ``count`` out of ``of`` trials.

    Raises ValueError for a negative count or one greater than ``of``.
    """
    if not 0 <= count <= of:
        raise ValueError(_("{count} out of {of} is not a share.").format(count=count, of=of))
    if of == 0:
        return Share(0, 0, None, None, None)
    return Share(
        count,
        of,
        count / of,
        wilson_interval(count, of, confidence),
        clopper_pearson(count, of, confidence),
    )


def wilson_interval(count: int, of: int, confidence: float = CONFIDENCE) -> Interval:
    """Return Wilson's score interval for ``count`` out of ``of`` (at least one) trials."""
    z = z_value(confidence)
    p = count / of
    spread = 1 + z * z / of
    center = (p + z * z / (2 * of)) / spread
    half = z * np.sqrt(p * (1 - p) / of + z * z / (4 * of * of)) / spread
    # At no and at all successes an end is 0 or 1 exactly; rounding must not pass it.
    low = 0.0 if count == 0 else float(center - half)
    high = 1.0 if count == of else float(center + half)
    return Interval(low, high)


@dataclass(frozen=True, slots=True)
class Calling:
    """
    How a judge's calls on one rule stand to what the rule module finds.

    ``over`` is the share of sound parts said to fail, ``under`` the share of failing
    parts let pass, ``agreed`` the share of all calls that were right.
    """

    over: Share
    under: Share
    agreed: Share


def calling(pairs: Iterable[tuple[bool, bool]], confidence: float = CONFIDENCE) -> Calling:
    """
    Return the Calling of ``pairs`` of (judge says it fails, it does fail).

    Parts that the rule module could not measure do not belong here: leave them out.
    """
    tally: dict[tuple[bool, bool], int] = defaultdict(int)
    for said, is_so in pairs:
        tally[bool(said), bool(is_so)] += 1
    sound = tally[True, False] + tally[False, False]
    failing = tally[True, True] + tally[False, True]
    return Calling(
        over=share(tally[True, False], sound, confidence),
        under=share(tally[False, True], failing, confidence),
        agreed=share(tally[True, True] + tally[False, False], sound + failing, confidence),
    )
