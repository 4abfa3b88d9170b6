"""
Shares and chances as people say them, the one way everywhere.

To the whole percent, a half away from nought. A share that is not nought never reads as 0, and
one that is not all never as 100: "less than 1 percent", "more than 99 percent".
"""

from math import floor

from .say import gettext as _

# What a share written in binary may be off by; a share of counts never lies so near a half.
_SLACK = 1e-9

# A chance below it is not told any finer.
RARE = 0.001


def percent_number(share: float, decimals: int = 0) -> str:
    """
    Return a share as the number that stands before "percent": ``42``, ``less than 1``.

    ``decimals`` are for a share that is set against a limit of so many percent.
    """
    number, bound = _rounded(share, decimals)
    if bound < 0:
        return _("less than {number}").format(number=number)
    return _("more than {number}").format(number=number) if bound else number


def ratio_number(ratio: float) -> str:
    """Return the ratio of two things, which may pass all, in percent: ``103``, ``less than 1``."""
    return f"{_half_away(ratio * 100):,}" if ratio > 0.5 else percent_number(ratio)


def percent(share: float, decimals: int = 0) -> str:
    """Return a share as in a sentence: ``42 percent``."""
    return _("{number} percent").format(number=percent_number(share, decimals))


def percent_sign(share: float, decimals: int = 0) -> str:
    """Return a share as in a table: ``42%``, ``<1%``, ``>99%``."""
    number, bound = _rounded(share, decimals)
    return f"{'<' if bound < 0 else '>' if bound else ''}{number}%"


def _rounded(share: float, decimals: int) -> tuple[str, int]:
    """Return a share in percent, and -1 or 1 if that is only a bound to it from above or below."""
    whole = 100 * 10**decimals
    ticks = _half_away(share * whole)
    bound = 0
    if ticks == 0 and share > 0:
        ticks, bound = 1, -1
    elif ticks == whole and share < 1:
        ticks, bound = whole - 1, 1
    # Shares are printed as counts are: no "0.0" for nothing, no "100.0" for all.
    if ticks in (0, whole):
        decimals, ticks = 0, ticks // 10**decimals
    return f"{ticks / 10**decimals:,.{decimals}f}", bound


def _half_away(value: float) -> int:
    size = floor(abs(value) + 0.5 + _SLACK)
    return size if value >= 0 else -size


def percent_range(low: float, high: float) -> str:
    """Return the two ends of an interval of a share: ``34 to 81``, without the word percent."""
    return _("{low} to {high}").format(low=percent_number(low), high=percent_number(high))


def chance(p: float) -> str:
    """
    Return a probability as times: ``37 in 100``, ``4 in 1,000``, ``less than 1 in 1,000``.

    One that is not sure never reads as such: ``more than 99 in 100``.
    """
    if p < RARE:
        return _("less than 1 in 1,000")
    if _half_away(p * 1000) < 10:
        return _("{times} in 1,000").format(times=_half_away(p * 1000))
    return _("{times} in 100").format(times=percent_number(p))
