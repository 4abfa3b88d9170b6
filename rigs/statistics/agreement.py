"""
How far people who judge the same rigs agree, with each other and with the rule module.

Shares carry two intervals, kappas a large-sample one. Categories are anything
hashable ("legal", "not legal"; a clause; True and False).
"""

from collections import defaultdict
from collections.abc import Hashable, Iterable, Sequence
from dataclasses import dataclass, replace
from math import sqrt

import numpy as np
from numpy.typing import ArrayLike

from rigs.words.say import gettext as _

from .arrays import Counts
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
class Kappa:
    """
    Agreement beyond chance.

    ``observed`` and ``expected`` are the shares of agreement seen and due to chance;
    ``kappa`` is (observed - expected) / (1 - expected). ``kappa``, its standard error
    and its interval are None when chance alone would give full agreement (everybody
    said the same throughout): there was nothing to disagree about. ``subjects`` is
    the number of rigs. The interval is a normal one: with fewer than some 30 rigs it
    is rough, and it may pass 1.
    """

    kappa: float | None
    observed: float
    expected: float
    standard_error: float | None
    interval: Interval | None
    subjects: int


def cross_table(
    first: Sequence[Hashable], second: Sequence[Hashable], categories: Sequence[Hashable]
) -> Counts:
    """
    Return how often ``first`` said row and ``second`` said column, as a square array.

    Raises ValueError when the two did not judge the same number of rigs, or when one
    of them used a category that is not in ``categories``.
    """
    if len(first) != len(second):
        raise ValueError(
            _("One judged {first} rigs and the other {second}.").format(
                first=len(first), second=len(second)
            )
        )
    index = {category: place for place, category in enumerate(categories)}
    table = np.zeros((len(index), len(index)), dtype=int)
    for one, other in zip(first, second, strict=True):
        try:
            table[index[one], index[other]] += 1
        except KeyError as error:
            raise ValueError(
                _("{args!r} is not one of the categories.").format(args=error.args[0])
            ) from None
    return table


def cohen_kappa(table: ArrayLike, confidence: float = CONFIDENCE) -> Kappa:
    """
    Return Cohen's Kappa of two judges from their square table of counts.

    Cohen (1960); the standard error is the large-sample one of Fleiss, Cohen and
    Everitt (1969) (from memory).

    Raises ValueError for a table that is not square or holds no count.
    """
    counts = np.asarray(table, dtype=float)
    if counts.ndim != 2 or counts.shape[0] != counts.shape[1]:
        raise ValueError(_("The table of two judges is square."))
    subjects = counts.sum()
    if subjects <= 0 or (counts < 0).any():
        raise ValueError(_("The table holds no counts."))
    p = counts / subjects
    rows, columns = p.sum(axis=1), p.sum(axis=0)
    observed, expected = float(np.trace(p)), float(rows @ columns)
    if expected == 1:
        return Kappa(None, observed, expected, None, None, int(subjects))
    kappa = (observed - expected) / (1 - expected)
    diagonal = np.diag(p) @ (1 - (rows + columns) * (1 - kappa)) ** 2
    crossed = (columns[:, None] + rows[None, :]) ** 2 * p
    off_diagonal = (1 - kappa) ** 2 * (crossed.sum() - np.trace(crossed))
    center = (kappa - expected * (1 - kappa)) ** 2
    variance = (diagonal + off_diagonal - center) / (subjects * (1 - expected) ** 2)
    error, interval = _spread(kappa, variance, confidence)
    return Kappa(kappa, observed, expected, error, interval, int(subjects))


def pooled_kappa(tables: ArrayLike, confidence: float = CONFIDENCE) -> Kappa:
    """
    Return Cohen's Kappa of several judges against one standard, all their calls together.

    ``tables`` is an array of rigs by what was said by what is so: one square table of
    counts a rig. Calls on one rig are alike, since it is easy or hard for everybody, so
    the standard error is the linearised one over rigs (the delta method for a function
    of totals over clusters; Cochran, Sampling Techniques, 1977, from memory). With one
    call a rig it is that of ``cohen_kappa`` times rigs / (rigs - 1), in its square. With
    one rig there is no standard error.

    Raises ValueError for tables that are not square or hold no count.
    """
    counts = np.asarray(tables, dtype=float)
    if counts.ndim != 3 or counts.shape[1] != counts.shape[2]:
        raise ValueError(_("There is one square table a rig."))
    whole = cohen_kappa(counts.sum(axis=0), confidence)
    counts = counts[counts.sum(axis=(1, 2)) > 0]
    rigs = len(counts)
    if whole.kappa is None:
        return replace(whole, subjects=rigs)
    if rigs == 1:
        return replace(whole, standard_error=None, interval=None, subjects=rigs)
    p = counts.sum(axis=0) / counts.sum()
    rows, columns = p.sum(axis=1), p.sum(axis=0)
    slope = np.eye(len(p)) - (1 - whole.kappa) * (columns[:, None] + rows[None, :])
    slope = (slope - (p * slope).sum()) / (1 - whole.expected)
    influence = (counts * slope).sum(axis=(1, 2)) / counts.sum()
    variance = (influence**2).sum() * rigs / (rigs - 1)
    error, interval = _spread(whole.kappa, variance, confidence)
    return replace(whole, standard_error=error, interval=interval, subjects=rigs)


def category_counts(
    ratings: Iterable[Sequence[Hashable | None]], categories: Sequence[Hashable]
) -> tuple[Counts, int]:
    """
    Return how many judges put each rig in each category.

    ``ratings`` has one row a rig and one entry a judge. Fleiss' kappa needs the same
    number of judges for every rig, so a rig that somebody left open (None) is left
    out whole. Returns (counts as an array of rigs by categories, number left out).

    Raises ValueError for a category that is not in ``categories``.
    """
    index: dict[Hashable, int] = {category: place for place, category in enumerate(categories)}
    rows, left_out = [], 0
    for ratings_of_one in ratings:
        if any(rating is None for rating in ratings_of_one):
            left_out += 1
            continue
        row = [0] * len(index)
        for rating in ratings_of_one:
            if rating not in index:
                raise ValueError(
                    _("{rating!r} is not one of the categories.").format(rating=rating)
                )
            row[index[rating]] += 1
        rows.append(row)
    return np.array(rows, dtype=int).reshape(len(rows), len(index)), left_out


def fleiss_kappa(counts: ArrayLike, confidence: float = CONFIDENCE) -> Kappa:
    """
    Return Fleiss' Kappa of several judges from an array of rigs by categories.

    Fleiss (1971). The standard error is the linearised one over rigs (Gwet, Handbook
    of Inter-Rater Reliability, from memory): it holds whatever the true agreement,
    which the one of 1971, made for testing kappa = 0, does not. It takes the rigs as
    a sample and the judges as given. With one rig there is no standard error.

    Raises ValueError for an empty array, fewer than two judges, or rigs that were not
    all judged by the same number of people.
    """
    table = np.asarray(counts, dtype=float)
    if table.ndim != 2 or table.size == 0:
        raise ValueError(_("There is no rig to compare."))
    judges = table[0].sum()
    if judges < 2:
        raise ValueError(_("Agreement needs at least two judges."))
    if not (table.sum(axis=1) == judges).all():
        raise ValueError(_("Every rig must be judged by the same number of people."))
    subjects = len(table)
    shares = table.sum(axis=0) / table.sum()
    agreeing = ((table**2).sum(axis=1) - judges) / (judges * (judges - 1))
    observed, expected = float(agreeing.mean()), float(shares @ shares)
    if expected == 1:
        return Kappa(None, observed, expected, None, None, subjects)
    kappa = (observed - expected) / (1 - expected)
    if subjects == 1:
        return Kappa(kappa, observed, expected, None, None, subjects)
    by_chance = table @ shares / judges
    one_by_one = (agreeing - expected) / (1 - expected)
    one_by_one -= 2 * (1 - kappa) * (by_chance - expected) / (1 - expected)
    variance = ((one_by_one - kappa) ** 2).sum() / (subjects * (subjects - 1))
    error, interval = _spread(kappa, variance, confidence)
    return Kappa(kappa, observed, expected, error, interval, int(subjects))


def _spread(kappa: float, variance: float, confidence: float) -> tuple[float, Interval]:
    """Return the standard error of ``kappa`` and its interval."""
    # Full agreement has no variance; rounding can leave a hair below nought.
    error = sqrt(max(variance, 0.0))
    half = z_value(confidence) * error
    return error, Interval(kappa - half, kappa + half)


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
