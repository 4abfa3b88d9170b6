"""
The share of bottom animals in the catch, beside the standard for exempted fisheries.

The standard is what the regulator weighs for a fishery. A tow over it breaks no rule: it
is a warning sign.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from rigs.rules import rulebook
from rigs.rules.rulebook import Requirement, Rulebook
from rigs.statistics.interval import CONFIDENCE, Interval, clopper_pearson, ratio
from rigs.words.say import gettext as _
from rigs.words.say import gettext_lazy

UNDER, OVER, UNSURE = "under", "over", gettext_lazy("cannot tell")


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
    the exact one by baskets second. ``verdict`` is ``under``, ``over`` or ``cannot tell``:
    one of the first two only if every interval there is says so. ``standard`` is a rule
    set's requirement.
    """

    share: float
    tows: int
    intervals: tuple[ShareInterval, ...]
    standard: Requirement
    verdict: str
    confidence: float


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
_TOWS = gettext_lazy("The range comes from how much the tows differ. For few tows it is rough.")
_BASKETS = gettext_lazy(
    "Exact if all baskets weighed the same, held one kind each, and were filled from a "
    "well-mixed pile."
)


def _by_tows(catches: Sequence[Catch], confidence: float) -> ShareInterval:
    share, interval = ratio(
        [each.bottom for each in catches], [each.total for each in catches], confidence
    )
    weighed = sum(each.total > 0 for each in catches)
    basis = _TOWS if interval else _ONE_TOW if weighed < 2 else _NO_SPREAD
    return ShareInterval(_("by weight, tow by tow"), basis, False, share, interval)


def _by_baskets(catches: Sequence[Catch], confidence: float) -> Iterator[ShareInterval]:
    """Yield the interval by baskets if they were counted in every tow."""
    hits = trials = 0
    for each in catches:
        if each.bottom_baskets is None or each.baskets is None:
            return
        hits, trials = hits + each.bottom_baskets, trials + each.baskets
    interval = clopper_pearson(hits, trials, confidence)
    yield ShareInterval(_("by count of baskets"), _BASKETS, True, hits / trials, interval)


def _verdict(intervals: Sequence[ShareInterval], limit: float) -> str:
    ranges = [each.range for each in intervals if each.range is not None]
    if ranges and all(each.high < limit for each in ranges):
        return UNDER
    if ranges and all(each.low >= limit for each in ranges):
        return OVER
    return UNSURE


def bycatch(
    catches: Iterable[Catch], requirement: Requirement | None = None, confidence: float = CONFIDENCE
) -> Bycatch:
    """
    Return the Bycatch of ``catches``, one Catch a tow.

    Catches are weights, so the share is one of weight and its interval comes from the
    differences between tows; an exact interval is given besides where baskets were
    counted in every tow. The standard is for regulated species; bottom animals stand in
    for them here, which counts crabs and skates that are not regulated, and leaves out
    round fish that are. ``STANDS_IN`` says so for the page.

    Raise ValueError for negative weights, no catch at all, or counts that cannot be.
    """
    catches = tuple(catches)
    limit = requirement or standard()
    if any(min(each.target, each.bottom, each.other) < 0 for each in catches):
        raise ValueError(_("A catch cannot weigh less than nothing."))
    intervals = [_by_tows(catches, confidence), *_by_baskets(catches, confidence)]
    return Bycatch(
        share=intervals[0].share,
        tows=len(catches),
        intervals=tuple(intervals),
        standard=limit,
        verdict=_verdict(intervals, limit.limit),
        confidence=confidence,
    )
