"""
How far people who judge the same rigs agree beyond chance, with each other and with the rules.

Categories are anything hashable ("legal", "not legal"; a clause; True and False).
"""

from collections.abc import Hashable, Iterable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from rigs.words.say import gettext as _

from .arrays import Counts, Figures
from .facets import Reach, Spread, reach, spread
from .interval import CONFIDENCE, Interval

# What two judges who never agree come to, at the least (both say each of two things half of
# the time). That of several judges with each other is nearer to nought: see ``fleiss_kappa``.
LOWEST = -1.0

Calls = Sequence[Sequence[Hashable | None]]


@dataclass(frozen=True, slots=True)
class Kappa:
    """
    Agreement beyond chance.

    ``observed`` and ``expected`` are the shares of agreement seen and due to chance;
    ``kappa`` is (observed - expected) / (1 - expected). ``kappa`` and its Reach are None
    when chance alone would give full agreement (everybody said the same throughout): there
    was nothing to disagree about. ``subjects`` is the number of rigs.
    """

    kappa: float | None
    observed: float
    expected: float
    reach: Reach | None
    subjects: int

    @property
    def interval(self) -> Interval | None:
        """The Interval of ``kappa``, None where there is none."""
        return self.reach.interval if self.reach else None

    @property
    def standard_error(self) -> float | None:
        """The standard error of ``kappa``, None where there is none."""
        return self.reach.error if self.reach else None


def cross_table(
    first: Sequence[Hashable], second: Sequence[Hashable], categories: Sequence[Hashable]
) -> Counts:
    """
    Return how often ``first`` said row and ``second`` said column, as a square array.

    Raises ValueError when the two did not judge the same number of rigs, or when one
    of them used a category that is not in ``categories``.
    """
    _check_lengths(first, second)
    table = np.zeros((len(categories), len(categories)), dtype=int)
    np.add.at(table, (_codes([first], categories)[0], _codes([second], categories)[0]), 1)
    return table


def _check_lengths(first: Sequence[Hashable], second: Sequence[Hashable]) -> None:
    if len(first) != len(second):
        raise ValueError(
            _("One judged {first} rigs and the other {second}.").format(
                first=len(first), second=len(second)
            )
        )


def _codes(said: Calls, categories: Sequence[Hashable]) -> Counts:
    """Return ``said`` as the places of its categories, -1 for a call left open (None)."""
    index: dict[Hashable, int] = {category: place for place, category in enumerate(categories)}
    index.setdefault(None, -1)
    try:
        codes = [[index[each] for each in of_one] for of_one in said]
    except KeyError as error:
        raise ValueError(
            _("{args!r} is not one of the categories.").format(args=error.args[0])
        ) from None
    return np.array(codes, dtype=int).reshape(len(said), -1)


def cohen_kappa(table: ArrayLike, confidence: float = CONFIDENCE) -> Kappa:
    """
    Return Cohen's Kappa of two judges from their square table of counts.

    Cohen (1960); the standard error is the large-sample one of Fleiss, Cohen and
    Everitt (1969) (from memory). The interval is for these two on other rigs.

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
    if _is_all(expected):
        return Kappa(None, observed, expected, None, int(subjects))
    kappa = (observed - expected) / (1 - expected)
    diagonal = np.diag(p) @ (1 - (rows + columns) * (1 - kappa)) ** 2
    crossed = (columns[:, None] + rows[None, :]) ** 2 * p
    off_diagonal = (1 - kappa) ** 2 * (crossed.sum() - np.trace(crossed))
    center = (kappa - expected * (1 - kappa)) ** 2
    variance = (diagonal + off_diagonal - center) / (subjects * (1 - expected) ** 2)
    found = Spread(variance, subjects - 1) if subjects > 1 else None
    return Kappa(kappa, observed, expected, reach(kappa, found, LOWEST, confidence), int(subjects))


def _is_all(expected: float) -> bool:
    """Return whether chance alone gives full agreement, but for rounding."""
    return 1 - expected < 1e-12


def pooled_kappa(
    said: Calls,
    so: Sequence[Hashable],
    categories: Sequence[Hashable],
    confidence: float = CONFIDENCE,
) -> Kappa:
    """
    Return Cohen's Kappa of several judges against one standard, all their calls together.

    ``said`` has one sequence a judge and one entry a rig, None for a call left open; ``so``
    is what is so of each rig. With FEWEST_JUDGES or more its Reach is over judges and rigs
    (``facets.spread``), with fewer over rigs; that of one judge is Cohen's.

    Raises ValueError for judges of unlike numbers of rigs, for a category that is not in
    ``categories``, and without any call.
    """
    for of_one in said:
        _check_lengths(of_one, so)
    codes, right = _codes(said, categories), _codes([so], categories)[0]
    judges, called = np.nonzero(codes >= 0)
    size, places = len(categories), codes[judges, called]
    table = np.zeros((size, size))
    np.add.at(table, (places, right[called]), 1)
    whole = cohen_kappa(table, confidence)
    rigs = np.unique(called)
    if whole.kappa is None or len(said) == 1:
        return whole
    p = table / table.sum()
    rows, columns = p.sum(axis=1), p.sum(axis=0)
    slope = np.eye(size) - (1 - whole.kappa) * (columns[:, None] + rows[None, :])
    slope = (slope - (p * slope).sum()) / (1 - whole.expected) / table.sum()
    influence = np.zeros(codes.shape)
    influence[judges, called] = slope[places, right[called]]
    influence = influence[:, rigs]
    found = reach(whole.kappa, spread(influence, influence), LOWEST, confidence)
    return Kappa(whole.kappa, whole.observed, whole.expected, found, len(rigs))


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
    rows = list(ratings)
    codes = _codes(rows, categories)
    whole = codes[(codes >= 0).all(axis=1)]
    counts = (whole[:, :, None] == np.arange(len(categories))).sum(axis=1)
    return counts.reshape(len(whole), len(categories)), len(rows) - len(whole)


def fleiss_kappa(counts: ArrayLike, confidence: float = CONFIDENCE) -> Kappa:
    """
    Return Fleiss' Kappa of several judges from an array of rigs by categories.

    Fleiss (1971). The standard error is the linearised one over rigs (Gwet, Handbook
    of Inter-Rater Reliability, from memory): it holds whatever the true agreement,
    which the one of 1971, made for testing kappa = 0, does not. It takes the rigs as
    a sample and the judges as given: ``mutual_kappa`` takes both as samples.

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
    if _is_all(expected):
        return Kappa(None, observed, expected, None, subjects)
    kappa = (observed - expected) / (1 - expected)
    found = None
    if subjects > 1:
        by_chance = table @ shares / judges
        influence = _influence(agreeing - observed, by_chance - expected, kappa, expected)
        variance = float((influence**2).sum()) / (subjects * (subjects - 1))
        found = Spread(variance, subjects - 1)
    # Judges who never agree still agree in pairs so often: the less, the fewer they are.
    return Kappa(
        kappa, observed, expected, reach(kappa, found, -1 / (judges - 1), confidence), subjects
    )


def _influence(agreeing: Figures, by_chance: Figures, kappa: float, expected: float) -> Figures:
    """Return the influence on Fleiss' kappa of what lies so far from the mean agreement."""
    return (agreeing - 2 * (1 - kappa) * by_chance) / (1 - expected)


def mutual_kappa(
    said: Calls, categories: Sequence[Hashable], confidence: float = CONFIDENCE
) -> Kappa | None:
    """
    Return Fleiss' Kappa of judges with each other, over judges and rigs as samples.

    ``said`` is as in ``pooled_kappa``; a rig that somebody left open is left out, and with no
    rig left it is None. With fewer than FEWEST_JUDGES its Reach is over rigs.

    Raises ValueError as ``fleiss_kappa`` and ``category_counts`` do.
    """
    counts, __ = category_counts(zip(*said, strict=True), categories)
    if not len(counts):
        return None
    whole = fleiss_kappa(counts, confidence)
    if whole.kappa is None:
        return whole
    codes = _codes(said, categories)
    codes = codes[:, (codes >= 0).all(axis=0)]
    judges, rigs = codes.shape
    shares = counts.sum(axis=0) / counts.sum()
    with_others = (counts[np.arange(rigs), codes] - 1) / (judges - 1) - whole.observed
    by_chance = shares[codes] - whole.expected
    of_rigs, of_judges = (
        _influence(times * with_others, by_chance, whole.kappa, whole.expected) / codes.size
        for times in (1, 2)  # a judge is on both sides of a pair, a rig stands by itself
    )
    found = reach(whole.kappa, spread(of_rigs, of_judges), -1 / (judges - 1), confidence)
    return Kappa(whole.kappa, whole.observed, whole.expected, found, rigs)
