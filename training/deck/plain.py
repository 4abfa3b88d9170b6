"""Counts in plain sentences that are right for none, one and many."""

from rigs.words.units import trimmed

MONTH = 365.25 / 12
"""Days in a month, on the average."""


def counted(count, one, many=None, none="no"):
    """Return a count with its noun: ``no vessel``, ``1 vessel``, ``12 vessels``."""
    if count == 0:
        return f"{none} {one}"
    return f"{count:,} {one if count == 1 else many or f'{one}s'}"


def verb(count, one, many):
    """Return the form of a verb that goes with so many: none and one take ``one``."""
    return one if count in (0, 1) else many


def listed(words):
    """Return ``words`` as in a sentence: ``a``, ``a and b``, ``a, b and c``."""
    *before, last = words
    return f"{', '.join(before)} and {last}" if before else last


def without_a_sweep(count, vessels, where="on the register"):
    """Return one sentence on how many of the ``vessels`` of a place fish without a sweep."""
    if not vessels:
        return f"There are no vessels {where} that still fish."
    if vessels == 1:
        return f"The one vessel {where} {'fishes' if count else 'does not fish'} without a sweep."
    if not count:
        return f"None of the {vessels:,} vessels {where} fishes without a sweep yet."
    if count == vessels:
        return f"All {vessels:,} vessels {where} fish without a sweep."
    return (
        f"{count:,} of the {vessels:,} vessels {where} {verb(count, 'fishes', 'fish')} "
        "without a sweep."
    )


def months(days):
    """Return a number of days in words, as whole months, or days below one: ``4 months``."""
    if days < MONTH:
        return counted(round(days), "day", none="less than a")
    return counted(round(days / MONTH), "month")


def percent(share, decimals=0):
    """Return a share as ``42 percent``."""
    return f"{trimmed(share * 100, decimals)} percent"
