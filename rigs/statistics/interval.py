"""
What an estimate carries: its interval; for a share, exact or by the spread between tows.

SciPy is imported where it is used: it takes longer than all of this package.
"""

from collections.abc import Iterable
from math import isfinite, sqrt
from typing import NamedTuple

from rigs.words.say import gettext as _

CONFIDENCE = 0.95


class Interval(NamedTuple):
    """The two ends of an interval, in the unit of the estimate it belongs to."""

    low: float
    high: float


def tail(confidence: float = CONFIDENCE) -> float:
    """
    Return the probability left out at each end of an interval of ``confidence``.

    Raise ValueError unless 0 < confidence < 1.
    """
    if not 0 < confidence < 1:
        raise ValueError(
            _("A confidence lies between 0 and 1, not at {confidence}.").format(
                confidence=confidence
            )
        )
    return (1 - confidence) / 2


def z_value(confidence: float = CONFIDENCE) -> float:
    """Return the normal quantile of a two-sided interval of ``confidence``."""
    from scipy.special import ndtri

    return float(ndtri(1 - tail(confidence)))


def clopper_pearson(hits: float, trials: float, confidence: float = CONFIDENCE) -> Interval:
    """
    Return the exact Interval for a share of which ``hits`` in ``trials`` were seen.

    Clopper and Pearson, Biometrika 26 (1934), by quantiles of the beta distribution.
    It holds at least ``confidence`` of the time if the trials are independent. Raise
    ValueError unless both are whole numbers with 0 <= hits <= trials and trials > 0.
    """
    from scipy.stats import beta

    end = tail(confidence)
    if hits != int(hits) or trials != int(trials):
        raise ValueError(_("Only whole things can be counted."))
    if trials < 1:
        raise ValueError(_("Nothing was counted."))
    if not 0 <= hits <= trials:
        raise ValueError(_("The part cannot be more than the whole, nor less than nothing."))
    low = 0.0 if hits == 0 else float(beta.ppf(end, hits, trials - hits + 1))
    high = 1.0 if hits == trials else float(beta.isf(end, hits + 1, trials - hits))
    return Interval(low, high)


def ratio(
    parts: Iterable[float], wholes: Iterable[float], confidence: float = CONFIDENCE
) -> tuple[float, Interval | None]:
    """
    Return (share, Interval or None) of the sum of ``parts`` in the sum of ``wholes``.

    For weights, in any one unit, taken tow by tow: the tow is what was sampled, so the
    interval comes from how the tows differ (the ratio estimator with its linearised
    variance and Student's t of n - 1 degrees; Cochran, Sampling Techniques, 1977,
    chapter 6, from memory). It is an approximation, cut off at 0 and 1, and rough for few tows.
    None stands for an interval that cannot be had: of one tow, or of tows that do not
    differ at all, which with few tows says little about the next one.

    Raise ValueError for a negative weight, a part above its whole, or no weight at all.
    """
    end = tail(confidence)
    pairs = list(zip(parts, wholes, strict=True))
    for part, whole in pairs:
        if not (isfinite(part) and isfinite(whole)) or part < 0 or part > whole:
            raise ValueError(_("A part of the catch cannot be more than the whole, nor negative."))
    total = sum(whole for __, whole in pairs)
    if total <= 0:
        raise ValueError(_("There is no catch to take a share of."))
    share = sum(part for part, __ in pairs) / total
    weighed = [(part, whole) for part, whole in pairs if whole > 0]
    count = len(weighed)
    spread = sum((part - share * whole) ** 2 for part, whole in weighed)
    if count < 2 or spread <= (1e-12 * total) ** 2:
        return share, None
    error = sqrt(count / (count - 1) * spread) / total
    from scipy.stats import t

    reach = float(t.isf(end, count - 1)) * error
    return share, Interval(max(0.0, share - reach), min(1.0, share + reach))
