"""What every estimate on this site carries: an interval, and its confidence."""

from typing import NamedTuple

from scipy.special import ndtri

CONFIDENCE = 0.95


class Interval(NamedTuple):
    """The two ends of an interval, in the unit of the estimate it belongs to."""

    low: float
    high: float


def z_value(confidence=CONFIDENCE):
    """
    Return the normal quantile of a two-sided interval of ``confidence``.

    Raises ValueError unless 0 < confidence < 1.
    """
    return float(ndtri(1 - tail(confidence)))


def tail(confidence=CONFIDENCE):
    """
    Return the probability left out at each end of an interval of ``confidence``.

    Raises ValueError unless 0 < confidence < 1.
    """
    if not 0 < confidence < 1:
        raise ValueError(f"A confidence lies between 0 and 1, not at {confidence}.")
    return (1 - confidence) / 2
