"""
The share of bottom animals in the catch, beside the standard for exempted fisheries.

The standard is what the regulator weighs for a fishery. A tow over it breaks no rule: it
is a warning sign.

Bottom animals come in patches. A few tows mostly miss the big hauls that make the share, so
they look better than the net is, and an ordinary interval is too short upward. So the upper
end here leaves out one chance in 2,000, on the logarithm (see ``statistics.sums``), which
keeps "under" for a net exactly at the standard to 3 in 100 over patchy logs of 2 to 40 tows:
``python -m tests.benchmarks.bycatch``.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from math import isfinite

import numpy as np

from rigs.rules import rulebook
from rigs.rules.rulebook import Requirement, Rulebook
from rigs.statistics.interval import Interval, clopper_pearson
from rigs.statistics.sums import LogRatio, Unknown, log_ratio
from rigs.words.say import gettext as _
from rigs.words.say import gettext_lazy

UNDER, OVER, UNSURE = "under", "over", gettext_lazy("too few tows to tell")

# The chances left out at the ends of the range by tows, tried out by the benchmark. A false
# "under" is what patchy catches bring about; a false "over" they make rare by themselves.
BELOW, ABOVE = 0.01, 0.0005

# No source: the share of bottom animals in a bad haul, for a log that has had none.
BAD_HAUL = 0.5
# How seldom so many clean tows may come of a net at the upper end of that range.
ALL_CLEAN = 0.03


@dataclass(frozen=True, slots=True)
class Catch:
    """
    One tow's catch by group, kilograms.

    ``bottom`` is flatfish and other bottom animals. Where the catch was filled into
    baskets, ``bottom_baskets`` of ``baskets`` held bottom animals, else both are None.
    """

    target: float
    bottom: float
    other: float = 0.0
    bottom_baskets: int | None = None
    baskets: int | None = None

    @property
    def total(self) -> float:
        return self.target + self.bottom + self.other

    @property
    def share(self) -> float | None:
        """The share of bottom animals by weight, None of an empty tow."""
        return self.bottom / self.total if self.total else None


@dataclass(frozen=True, slots=True)
class ShareInterval:
    """
    An interval for a share; ``range`` is None where none can be had.

    ``method`` names it and ``basis`` says what it rests on; ``exact`` says whether it
    holds its confidence without approximation, given what it rests on; ``share`` is the
    share it surrounds.
    """

    method: str
    basis: str
    exact: bool
    share: float
    range: Interval | None


@dataclass(frozen=True, slots=True)
class Bycatch:
    """
    The share of bottom animals over some tows, by weight, against the standard.

    ``intervals`` holds the one by tows first and, if baskets were counted in every tow,
    the exact one by baskets second. ``verdict`` is ``under``, ``over`` or ``too few tows to
    tell``: one of the first two only if the range by tows says so and no other leaves it
    open. ``standard`` is a rule set's requirement.
    """

    share: float
    tows: int
    intervals: tuple[ShareInterval, ...]
    standard: Requirement
    verdict: str


def standard(on: date | None = None) -> Requirement:
    """
    Return the requirement that sets the bycatch standard, 50 CFR 648.80(a)(8)(i).

    It is that in force on the date ``on``, or where there is none the nearest; without a
    date the latest there is.
    """
    return standard_book(on).requirement("bycatch_share")


def standard_book(on: date | None = None) -> Rulebook:
    """Return the Rulebook that ``standard`` is taken from; see ``lapse`` for one that lapsed."""
    return rulebook.nearest("whiting", on) if on else rulebook.load("whiting")


STANDS_IN = gettext_lazy(
    "The log counts all bottom animals. The standard counts regulated species only, so the "
    "two differ."
)

_ONE_TOW = gettext_lazy("One tow does not show how tows differ, so there is no range.")
_NO_SPREAD = gettext_lazy(
    "All these tows had the same share. That does not show how far the next may differ, so "
    "there is no range."
)
_TOWS = gettext_lazy(
    "The range comes from how much the tows differ. It reaches far up on purpose: a big haul "
    "may be yet to come. In trials with patchy catches, a net exactly at the standard was said "
    "to be under it at most 3 times in 100."
)
_CLEAN = gettext_lazy(
    "No tow had any. The range allows for tows that are half bottom animals (our guess, no "
    "source) and have not come yet."
)
_BASKETS = gettext_lazy(
    "Exact if all baskets weighed the same, held one kind each, and were filled from a "
    "well-mixed pile."
)


def _by_tows(catches: Sequence[Catch]) -> ShareInterval:
    weighed = [each for each in catches if each.total > 0]
    if not weighed:
        raise ValueError(_("There is no catch to take a share of."))
    share = sum(each.bottom for each in weighed) / sum(each.total for each in weighed)
    basis, interval = _range(weighed)
    return ShareInterval(_("by weight, tow by tow"), basis, False, share, interval)


def _range(catches: Sequence[Catch]) -> tuple[str, Interval | None]:
    """Return what the range of the share by tows rests on, and the range."""
    if len(catches) < 2:
        return _ONE_TOW, None
    found = log_ratio(np.array([(each.bottom, each.total) for each in catches], dtype=float))
    if isinstance(found, LogRatio):
        low, high = found.between(BELOW, ABOVE)
        return _TOWS, Interval(low, min(1.0, high))
    if found is Unknown.NONE_ABOVE:
        return _CLEAN, Interval(0.0, clean_share(len(catches)))
    return (_ONE_TOW if found is Unknown.ONE_SOURCE else _NO_SPREAD), None


def clean_share(tows: int) -> float:
    """
    Return the largest share of bottom animals of which so many clean ``tows`` may well come.

    As the rule for none seen (Hanley and Lippman-Hand, JAMA 249, 1983, from memory): a net
    of this share has a BAD_HAUL so often that ``tows`` without one have chance ALL_CLEAN.
    """
    return BAD_HAUL * (1 - float(ALL_CLEAN ** (1 / tows)))


def _by_baskets(catches: Sequence[Catch]) -> Iterator[ShareInterval]:
    """Yield the interval by baskets if they were counted in every tow."""
    hits = trials = 0
    for each in catches:
        if each.bottom_baskets is None or each.baskets is None:
            return
        hits, trials = hits + each.bottom_baskets, trials + each.baskets
    interval = clopper_pearson(hits, trials)
    yield ShareInterval(_("by count of baskets"), _BASKETS, True, hits / trials, interval)


def _verdict(intervals: Sequence[ShareInterval], limit: float) -> str:
    """Return the verdict of ``intervals``, of which the first is by tows."""
    if intervals[0].range is None:
        return UNSURE
    ranges = [each.range for each in intervals if each.range is not None]
    if all(each.high < limit for each in ranges):
        return UNDER
    return OVER if all(each.low >= limit for each in ranges) else UNSURE


def bycatch(catches: Iterable[Catch], requirement: Requirement | None = None) -> Bycatch:
    """
    Return the Bycatch of ``catches``, one Catch a tow.

    Catches are weights, so the share is one of weight and its interval comes from the
    differences between tows; an exact interval is given besides where baskets were
    counted in every tow. The standard is for regulated species; bottom animals stand in
    for them here, which counts crabs and skates that are not regulated, and leaves out
    round fish that are. ``STANDS_IN`` says so for the page.

    Raise ValueError for weights that cannot be, no catch at all, or counts that cannot be.
    """
    catches = tuple(catches)
    limit = requirement or standard()
    parts = [part for each in catches for part in (each.target, each.bottom, each.other)]
    if not all(isfinite(part) and part >= 0 for part in parts):
        raise ValueError(_("A catch cannot weigh less than nothing."))
    intervals = [_by_tows(catches), *_by_baskets(catches)]
    return Bycatch(
        share=intervals[0].share,
        tows=len(catches),
        intervals=tuple(intervals),
        standard=limit,
        verdict=_verdict(intervals, limit.limit),
    )
