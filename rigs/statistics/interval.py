"""
What an estimate carries: its interval; for a share counted, an exact one.

SciPy is imported where it is used: it takes longer than all of this package.
"""

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
