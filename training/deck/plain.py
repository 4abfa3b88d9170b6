"""Counts in plain sentences that are right for none, one and many; shares as ``rigs`` says them."""

from django.utils.translation import gettext as _

from rigs.words.say import gettext_lazy
from rigs.words.shares import (
    chance,
    percent,
    percent_number,
    percent_range,
    percent_sign,
    ratio_number,
)

__all__ = [
    "MONTH",
    "NO_HARBOR",
    "ON_THE_REGISTER",
    "chance",
    "counted",
    "listed",
    "months",
    "percent",
    "percent_number",
    "percent_range",
    "percent_sign",
    "ratio_number",
    "verb",
    "without_a_sweep",
]

MONTH = 365.25 / 12
"""Days in a month, on the average."""

ON_THE_REGISTER = gettext_lazy("on the register")
NO_HARBOR = gettext_lazy("no harbor")


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
    return _("{before} and {last}").format(before=", ".join(before), last=last) if before else last


def without_a_sweep(count, vessels, where=ON_THE_REGISTER):
    """Return one sentence on how many of the ``vessels`` of a place fish without a sweep."""
    if not vessels:
        return _("There are no vessels {where} that still fish.").format(where=where)
    if vessels == 1:
        if count:
            return _("The one vessel {where} fishes without a sweep.").format(where=where)
        return _("The one vessel {where} does not fish without a sweep.").format(where=where)
    if not count:
        return _("None of the {vessels:,} vessels {where} fishes without a sweep yet.").format(
            vessels=vessels, where=where
        )
    if count == vessels:
        return _("All {vessels:,} vessels {where} fish without a sweep.").format(
            vessels=vessels, where=where
        )
    return _("{count:,} of the {vessels:,} vessels {where} {verb} without a sweep.").format(
        count=count, vessels=vessels, where=where, verb=verb(count, "fishes", "fish")
    )


def months(days):
    """Return a number of days in words, as whole months, or days below one: ``4 months``."""
    if days < MONTH:
        return counted(round(days), "day", none=_("less than a"))
    return counted(round(days / MONTH), "month")
