"""
Where the pass mark goes: judges' opinions of a candidate who is only just good enough.

Modified Angoff: each judge says, item by item, what share of the marks a candidate who
only just deserves to pass would earn. A judge's pass mark is the mean of his answers,
weighted by what the items are worth; the panel's is the mean of its judges' (from
memory; "modified" because judges may look at results and answer again).
"""

from collections.abc import Hashable, Mapping
from dataclasses import dataclass
from math import sqrt
from typing import TypeVar

import numpy as np

from rigs.words.say import gettext as _

Judge = TypeVar("Judge", bound=Hashable)
Item = TypeVar("Item", bound=Hashable)


class StandardError(ValueError):
    """Judgements that make no pass mark; the message says why in plain words."""


@dataclass(frozen=True, slots=True)
class ItemStandard:
    """What the judges expect of one item: ``mean`` share right and ``spread`` (SD or None)."""

    item: Hashable
    mean: float
    spread: float | None


@dataclass(frozen=True, slots=True)
class Standard:
    """
    A panel's pass mark, all figures shares of the marks from 0 to 1.

    ``cut`` is the pass mark and ``by_judge`` each judge's own. ``spread`` is the
    standard deviation of the judges' pass marks (n - 1 below the line) and ``error``
    the standard error of their mean: how far another panel of as many might differ.
    Both are None with one judge. ``unfinished`` names judges left out because they had
    not judged every item.
    """

    cut: float
    by_judge: Mapping[Hashable, float]
    spread: float | None
    error: float | None
    items: tuple[ItemStandard, ...]
    unfinished: tuple[Hashable, ...]


def angoff(
    judgements: Mapping[Judge, Mapping[Item, float]],
    marks: Mapping[Item, float],
) -> Standard:
    """
    Return the Standard of ``judgements``: judge to item to expected share right, 0 to 1.

    ``marks`` says what each item is worth, and which items there are. A judge who has
    not judged them all is left out whole: his mean would be of other items.

    Raises StandardError when no judge has finished, for an expected share outside 0 to
    1, for an item that is not in ``marks``, and for items worth nothing.
    """
    worth = np.array(list(marks.values()), dtype=float)
    if not len(worth) or (worth <= 0).any():
        raise StandardError(_("Every item must be worth something."))
    rows: list[list[float]] = []
    by_judge: dict[Hashable, float] = {}
    unfinished: list[Hashable] = []
    for judge, expected in judgements.items():
        for item, value in expected.items():
            if item not in marks:
                raise StandardError(_("{item!r} is not a question of this exam.").format(item=item))
            if not 0 <= value <= 1:
                raise StandardError(
                    _("{judge} expects {value}: a share is from 0 to 1.").format(
                        judge=judge, value=value
                    )
                )
        if len(expected) < len(marks):
            unfinished.append(judge)
            continue
        row = [expected[item] for item in marks]
        rows.append(row)
        by_judge[judge] = float(np.average(row, weights=worth))
    if not rows:
        raise StandardError(_("No judge has judged every item yet."))
    cuts = np.array(list(by_judge.values()))
    several = len(cuts) > 1
    spread = float(cuts.std(ddof=1)) if several else None
    table = np.array(rows)
    return Standard(
        cut=float(cuts.mean()),
        by_judge=by_judge,
        spread=spread,
        error=None if spread is None else spread / sqrt(len(cuts)),
        items=tuple(
            ItemStandard(item, float(column.mean()), float(column.std(ddof=1)) if several else None)
            for item, column in zip(marks, table.T, strict=True)
        ),
        unfinished=tuple(unfinished),
    )


def passes(mark: float, cut: float) -> bool:
    """
    Return whether a share ``mark`` reaches the pass mark ``cut``.

    A billionth is forgiven, so that 21 of 30 reaches 0.7 however it was rounded.
    """
    return mark >= cut - 1e-9
