"""
Does a paper measure? Classical test theory on the marks of those who sat it.

Papers are parallel, not identical: everybody's differs in its numbers. An "item" is
therefore a task template (a kind, at a difficulty, on the same rule), and a cell of
the pool is what one candidate earned on his own task from that template; ``gathered`` puts
together those of one rule or one kind. A paper with
two tasks of one template gives that template two columns. A candidate whose paper
lacked a template has no cell there: NaN.

Sources, all from memory: Crocker and Algina, Introduction to Classical and Modern
Test Theory (1986) for difficulty, corrected item-total correlation, KR-20, alpha and
the standard error of measurement; Kuder and Richardson (1937); Cronbach (1951); Feldt
(1965) for the interval of alpha.
"""

from collections.abc import Callable, Hashable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, NamedTuple, TypeVar

import numpy as np

from rigs.words.say import gettext as _

from .arrays import Counts, Figures
from .interval import CONFIDENCE, Interval, tail

# Common practice: fewer answers say too little about one item.
ENOUGH_ANSWERS = 20

RESAMPLES = 2000
BATCH = 200

Item = TypeVar("Item", bound=Hashable)


class MeasureError(ValueError):
    """A statistic that these marks do not define; the message says why in plain words."""


@dataclass(frozen=True, slots=True)
class Pool:
    """
    The marks of several candidates on the items of their papers.

    ``marks`` is an array of candidates by items, NaN where a paper lacked the item;
    ``out_of`` holds the most marks each item can give. ``items`` are the items' keys.
    """

    items: tuple[Hashable, ...]
    marks: Figures
    out_of: Figures

    @property
    def missing(self) -> int:
        """How many cells hold no mark."""
        return int(np.isnan(self.marks).sum())

    @property
    def right_or_wrong(self) -> bool:
        """Whether every item gives one mark or none."""
        given = self.marks[~np.isnan(self.marks)]
        return bool((self.out_of == 1).all() and np.isin(given, (0, 1)).all())

    @property
    def shares(self) -> Figures:
        """Each candidate's share of the marks his own paper could give, 0 to 1."""
        taken = ~np.isnan(self.marks)
        earned: Figures = np.nansum(self.marks, axis=1)
        return earned / (taken @ self.out_of)


def pool(papers: Sequence[Mapping[Item, float]], out_of: Mapping[Item, float]) -> Pool:
    """
    Return the Pool of ``papers``, one mapping of item key to marks a candidate.

    ``out_of`` gives the most marks of each item and the order of the columns.

    Raises MeasureError without papers, for a paper without items, for an item that
    ``out_of`` does not know, and for marks below nought or above the item's most.
    """
    if not papers:
        raise MeasureError(_("Nobody has taken this exam yet."))
    column = {item: place for place, item in enumerate(out_of)}
    most = np.array(list(out_of.values()), dtype=float)
    marks = np.full((len(papers), len(column)), np.nan)
    for row, paper in enumerate(papers):
        if not paper:
            raise MeasureError(_("One of the exams has no questions."))
        for item, mark in paper.items():
            if item not in column:
                raise MeasureError(_("{item!r} is not a question of this exam.").format(item=item))
            if not 0 <= mark <= most[column[item]]:
                raise MeasureError(
                    _("{item!r} cannot earn {mark} points.").format(item=item, mark=mark)
                )
            marks[row, column[item]] = mark
    return Pool(tuple(out_of), marks, most)


def gathered(pool: Pool, group_of: Callable[[Any], Hashable]) -> Pool:
    """
    Return a Pool whose items are groups of those of ``pool``, in the order they come up.

    ``group_of`` returns the group of an item. Where a paper lacked some items of a group,
    the marks on the others are scaled up to the whole group, so that its share stays; where
    it lacked them all there is no mark.
    """
    columns: dict[Hashable, list[int]] = {}
    for place, item in enumerate(pool.items):
        columns.setdefault(group_of(item), []).append(place)
    marks, out_of = [], []
    for places in columns.values():
        taken = ~np.isnan(pool.marks[:, places])
        possible = taken @ pool.out_of[places]
        whole = pool.out_of[places].sum()
        earned = np.nansum(pool.marks[:, places], axis=1)
        with np.errstate(invalid="ignore"):
            marks.append(np.where(possible > 0, earned * whole / possible, np.nan))
        out_of.append(whole)
    return Pool(tuple(columns), np.array(marks).T, np.array(out_of))


def difficulty(marks: Figures, out_of: Figures) -> Figures:
    """
    Return each item's difficulty: the mean share of its marks that was earned.

    0 is an item nobody has right, 1 one everybody has. NaN for an item without answers.
    """
    taken = ~np.isnan(marks)
    answers = taken.sum(axis=0)
    earned = np.nansum(marks, axis=0)
    with np.errstate(invalid="ignore"):
        return np.where(answers > 0, earned / (answers * out_of), np.nan)


def discrimination(marks: Figures, out_of: Figures) -> Figures:
    """
    Return each item's corrected item-total correlation.

    The point-biserial (Pearson) correlation of the item with the share earned on the
    candidate's *other* items, so that the item is not correlated with itself. With no
    missing cell that is the correlation with the sum of the other items. With missing
    cells candidates are compared by shares of different papers, which is fair only as
    far as those papers are equally hard. NaN where either side does not vary, or fewer
    than three candidates have both.
    """
    taken = ~np.isnan(marks)
    earned, possible = np.nansum(marks, axis=1), taken @ out_of
    found = np.full(marks.shape[1], np.nan)
    for item in range(marks.shape[1]):
        others = possible - out_of[item]
        both = taken[:, item] & (others > 0)
        if both.sum() < 3:
            continue
        own = marks[both, item]
        rest = (earned[both] - own) / others[both]
        if np.ptp(own) > 0 and not np.isclose(np.ptp(rest), 0):
            found[item] = np.corrcoef(own, rest)[0, 1]
    return found


class Covered(NamedTuple):
    """A covariance matrix of the items and the fewest candidates behind any cell of it."""

    covariance: Figures
    candidates: int


def covariances(marks: Figures) -> Covered:
    """
    Return the items' covariances (n - 1 below the line), pairwise where cells lack.

    Each cell uses the candidates whose papers had both items. With no missing cell
    that is the ordinary covariance matrix.

    Raises MeasureError when fewer than two items, or fewer than two candidates for any
    pair of items, are left.
    """
    if marks.shape[1] < 2:
        raise MeasureError(_("Reliability needs at least two questions."))
    taken = ~np.isnan(marks)
    values = np.where(taken, marks, 0.0)
    both = taken.astype(float)
    together = both.T @ both
    if together.min() < 2:
        raise MeasureError(_("Some two questions were never on the same two exams."))
    sums = values.T @ both
    products = values.T @ values
    return Covered((products - sums * sums.T / together) / (together - 1), int(together.min()))


def alpha(marks: Figures) -> float:
    """
    Return Cronbach's alpha of an array of candidates by items.

    k / (k - 1) (1 - sum of the items' variances / variance of the total). With missing
    cells the variances come from ``covariances``, pairwise: an estimate that holds when
    papers are given out by chance, and one that can leave the range of a true alpha.

    Raises MeasureError as ``covariances`` does, and when all totals are the same.
    """
    covariance = covariances(marks).covariance
    items, total = len(covariance), covariance.sum()
    if total <= 1e-12 * max(1.0, np.abs(covariance).max()):
        raise MeasureError(_("Everyone has the same total, so there is nothing to compare."))
    return float(items / (items - 1) * (1 - np.trace(covariance) / total))


def kr20(marks: Figures) -> float:
    """
    Return Kuder and Richardson's formula 20 of right (1) and wrong (0) answers.

    k / (k - 1) (1 - sum of p (1 - p) / variance of the total), both variances with n
    below the line. It is alpha's special case.

    Raises MeasureError for a mark other than 0 and 1, for missing cells (alpha handles
    those), for fewer than two items or candidates, and when all totals are the same.
    """
    if np.isnan(marks).any():
        raise MeasureError(_("KR-20 needs every question on every exam. Use alpha instead."))
    if not np.isin(marks, (0, 1)).all():
        raise MeasureError(_("KR-20 is for right and wrong answers. Use alpha instead."))
    candidates, items = marks.shape
    if items < 2 or candidates < 2:
        raise MeasureError(_("Reliability needs at least two questions and two people."))
    spread = marks.sum(axis=1).var()
    if spread == 0:
        raise MeasureError(_("Everyone has the same total, so there is nothing to compare."))
    p = marks.mean(axis=0)
    return float(items / (items - 1) * (1 - (p * (1 - p)).sum() / spread))


def feldt_interval(
    estimate: float, candidates: int, items: int, confidence: float = CONFIDENCE
) -> Interval:
    """
    Return Feldt's interval of an ``estimate`` of alpha from ``candidates`` who sat ``items``.

    (1 - true alpha) / (1 - estimate) follows F with n - 1 and (n - 1)(k - 1) degrees of
    freedom when marks are normal and the items equally good measures; for right and
    wrong answers it is an approximation. With missing cells give the fewest candidates
    behind any pair of items, which errs on the wide side.

    Raises MeasureError for fewer than two candidates or items.
    """
    from scipy.special import fdtri

    if candidates < 2 or items < 2:
        raise MeasureError(_("Reliability needs at least two questions and two people."))
    between, within = candidates - 1, (candidates - 1) * (items - 1)
    end = tail(confidence)
    return Interval(
        float(1 - (1 - estimate) * fdtri(between, within, 1 - end)),
        float(1 - (1 - estimate) * fdtri(between, within, end)),
    )


def bootstrap_interval(
    marks: Figures, seed: int, resamples: int = RESAMPLES, confidence: float = CONFIDENCE
) -> Interval:
    """
    Return the percentile bootstrap interval of alpha, candidates drawn again by chance.

    It assumes no distribution, but needs some fifty candidates to be worth much. The
    same ``seed`` gives the same interval. A draw in which alpha is not defined (say,
    everybody with the same total) is left out.

    Raises MeasureError when alpha of ``marks`` is undefined or too few draws define it.
    """
    alpha(marks)
    end = tail(confidence)
    rng = np.random.default_rng(seed)
    found: list[float] = []
    for start in range(0, resamples, BATCH):
        size = (min(BATCH, resamples - start), len(marks))
        found.extend(_alphas(marks, rng.integers(0, len(marks), size)))
    defined = np.array(found)
    defined = defined[~np.isnan(defined)]
    if len(defined) < resamples / 2:
        raise MeasureError(_("Too few people differ for a bootstrap of the reliability."))
    low, high = np.quantile(defined, (end, 1 - end))
    return Interval(float(low), float(high))


def _alphas(marks: Figures, draws: Counts) -> Iterator[float]:
    for draw in draws:
        try:
            yield alpha(marks[draw])
        except MeasureError:
            yield np.nan


def standard_error_of_measurement(totals: Figures, reliability: float) -> float:
    """
    Return the standard error of measurement, in the unit of ``totals``.

    The standard deviation of the totals (n - 1 below the line) times the root of
    1 - ``reliability``: about two candidates in three have a total within one such
    error of their true one.

    Raises MeasureError for fewer than two totals or a reliability above 1.
    """
    if len(totals) < 2:
        raise MeasureError(_("The error of measurement needs at least two people."))
    if reliability > 1:
        raise MeasureError(_("A reliability above 1 gives no error of measurement."))
    return float(np.std(totals, ddof=1) * np.sqrt(1 - reliability))
