"""What the marks of a paper say, item by item and as a whole, in figures and plain sentences."""

from collections.abc import Hashable
from dataclasses import dataclass

import numpy as np

from rigs.interval import CONFIDENCE, Interval

from .measure import (
    ENOUGH_ANSWERS,
    RESAMPLES,
    Consistency,
    MeasureError,
    alpha,
    bootstrap_interval,
    covariances,
    decision_consistency,
    difficulty,
    discrimination,
    feldt_interval,
    kr20,
    standard_error_of_measurement,
)

# Common practice for a paper that certifies: most who sit it have been taught.
TOO_HARD = 0.30
TOO_EASY = 0.95
# Ebel's bands: under 0.20 an item is to be changed or dropped (from memory).
SORTS_BADLY = 0.20


@dataclass(frozen=True, slots=True)
class Flag:
    """A ``key`` for programs and a ``sentence`` for people about one item."""

    key: str
    sentence: str


def _percent(share):
    return f"{share * 100:.0f} percent"


def flags(answers, difficulty, discrimination, options=()):
    """
    Return the Flags of one item.

    ``answers`` is how many sat it, ``difficulty`` and ``discrimination`` may be NaN,
    ``options`` its OptionShares if it has options. With fewer than ENOUGH_ANSWERS
    answers the only flag is that there are too few.
    """
    if answers < ENOUGH_ANSWERS:
        return (
            Flag(
                "few answers",
                f"Only {answers} answered this one. Below {ENOUGH_ANSWERS} its figures say little.",
            ),
        )
    found = []
    if difficulty < TOO_HARD:
        found.append(
            Flag(
                "too hard",
                f"Too hard: only {difficulty * 100:.0f} percent of its points were earned.",
            )
        )
    if difficulty > TOO_EASY:
        found.append(
            Flag(
                "too easy",
                f"Too easy to tell people apart: {_percent(difficulty)} of its points earned.",
            )
        )
    if discrimination < 0:
        found.append(
            Flag(
                "works backward",
                "People who do well on the rest do worse on this one. Look for a wrong answer key "
                "or a question that can be read two ways.",
            )
        )
    elif discrimination < SORTS_BADLY:
        found.append(
            Flag("does not fit the rest", "Doing well on this one says little about the rest.")
        )
    found.extend(
        Flag(
            "unused answer",
            f"Almost nobody picks the wrong answer “{option.option}” ({_percent(option.share)}). "
            "A more likely mistake would show more.",
        )
        for option in options
        if option.dead
    )
    return tuple(found)


@dataclass(frozen=True, slots=True)
class ItemReport:
    """One item's figures; ``difficulty`` and ``discrimination`` are None if undefined."""

    item: Hashable
    answers: int
    difficulty: float | None
    discrimination: float | None
    options: tuple
    flags: tuple


@dataclass(frozen=True, slots=True)
class PaperReport:
    """
    A paper's figures, each None where the marks do not define it.

    ``error`` is the standard error of measurement and ``mean`` and ``spread`` the mean
    and standard deviation of totals, all three as shares of the marks. ``missing``
    counts the cells without a mark. ``notes`` are plain sentences: why a figure lacks
    and what to mind in reading those that do not.
    """

    candidates: int
    items: tuple
    missing: int
    mean: float
    spread: float | None
    reliability_name: str
    reliability: float | None
    feldt: Interval | None
    bootstrap: Interval | None
    error: float | None
    consistency: Consistency | None
    notes: tuple


def report(pool, cut, seed, options=None, resamples=RESAMPLES, confidence=CONFIDENCE):
    """
    Return the PaperReport of ``pool`` at the pass mark ``cut`` (a share of the marks).

    ``options`` maps item keys to their OptionShares. ``seed`` fixes the bootstrap.
    ``resamples=0`` leaves the bootstrap out.
    """
    notes = []

    def or_note(function, *arguments):
        try:
            return function(*arguments)
        except MeasureError as error:
            if str(error) not in notes:
                notes.append(str(error))
            return None

    shares = pool.shares
    candidates = len(shares)
    plain = pool.right_or_wrong and not pool.missing
    reliability = or_note(kr20 if plain else alpha, pool.marks)
    feldt = bootstrap = error = consistency = None
    if reliability is not None:
        fewest = covariances(pool.marks).candidates
        feldt = feldt_interval(reliability, fewest, len(pool.items), confidence)
        if resamples:
            bootstrap = or_note(bootstrap_interval, pool.marks, seed, resamples, confidence)
        error = or_note(standard_error_of_measurement, shares, reliability)
        consistency = or_note(decision_consistency, shares, reliability, cut)
    if pool.missing:
        notes.append(
            f"Exams did not all hold the same questions: {pool.missing} of {pool.marks.size} cells "
            "are empty. Figures compare the questions that exams share, and shares of points."
        )
    return PaperReport(
        candidates=candidates,
        items=_item_reports(pool, options or {}),
        missing=pool.missing,
        mean=float(shares.mean()),
        spread=float(shares.std(ddof=1)) if candidates > 1 else None,
        reliability_name="KR-20" if plain else "Cronbach’s alpha",
        reliability=reliability,
        feldt=feldt,
        bootstrap=bootstrap,
        error=error,
        consistency=consistency,
        notes=tuple(notes),
    )


def _item_reports(pool, options):
    answers = (~np.isnan(pool.marks)).sum(axis=0)
    figures = zip(
        pool.items,
        answers,
        difficulty(pool.marks, pool.out_of),
        discrimination(pool.marks, pool.out_of),
        strict=True,
    )
    return tuple(
        ItemReport(
            item,
            int(count),
            _or_none(hard),
            _or_none(sorts),
            tuple(options.get(item, ())),
            flags(int(count), hard, sorts, options.get(item, ())),
        )
        for item, count, hard, sorts in figures
    )


def _or_none(value):
    return None if np.isnan(value) else float(value)
