"""What the answers to an exam say, by rule and kind and as a whole, in figures and sentences."""

from collections.abc import Hashable
from dataclasses import dataclass

import numpy as np
from django.utils.translation import gettext as _

from rigs.statistics.interval import CONFIDENCE, Interval, z_value
from rigs.statistics.items import (
    ENOUGH_ANSWERS,
    RESAMPLES,
    MeasureError,
    alpha,
    bootstrap_interval,
    covariances,
    difficulty,
    discrimination,
    feldt_interval,
    kr20,
    standard_error_of_measurement,
)
from rigs.words.units import trimmed
from training.deck.plain import percent

# Common practice for an exam that certifies: most who take it have been taught.
TOO_HARD = 0.30
TOO_EASY = 0.95
# Ebel's bands: under 0.20 an item is to be changed or dropped (from memory).
SORTS_BADLY = 0.20


@dataclass(frozen=True, slots=True)
class Flag:
    """A ``key`` for programs and a ``sentence`` for people about one item."""

    key: str
    sentence: str


def flags(answers, difficulty, discrimination, guessed=0):
    """
    Return the Flags of one item or group of items.

    ``answers`` is how many people had it, ``difficulty`` and ``discrimination`` may be NaN,
    ``guessed`` is the share that guessing gets right. With fewer than ENOUGH_ANSWERS
    answers the only flag is that there are too few.
    """
    if answers < ENOUGH_ANSWERS:
        return (
            Flag(
                _("few answers"),
                _(
                    "Only {answers} answered this. Below {ENOUGH_ANSWERS} its figures say little."
                ).format(answers=answers, ENOUGH_ANSWERS=ENOUGH_ANSWERS),
            ),
        )
    found = []
    if difficulty <= guessed:
        found.append(
            Flag(_("no better than guessing"), _("People did no better on this than by guessing."))
        )
    elif difficulty < TOO_HARD:
        found.append(
            Flag(
                _("too hard"),
                _("Too hard: only {percent} of its points were earned.").format(
                    percent=percent(difficulty)
                ),
            )
        )
    if difficulty > TOO_EASY:
        found.append(
            Flag(
                _("too easy"),
                _(
                    "Nearly all right ({percent}), so it tells few people apart. That can be as "
                    "it should."
                ).format(percent=percent(difficulty)),
            )
        )
    highest = _highest(discrimination, answers)
    if highest < 0:
        found.append(
            Flag(
                _("works backward"),
                _(
                    "People who do well on the rest do worse on this. Look for a question that "
                    "can be read two ways."
                ),
            )
        )
    elif highest < SORTS_BADLY:
        found.append(
            Flag(_("does not fit the rest"), _("Doing well on this says little about the rest."))
        )
    return tuple(found)


def _highest(correlation, people):
    """
    Return the highest correlation that this one among ``people`` leaves open, 95 times in 100.

    Fisher's transformation (1921, from memory). So chance among a few people is not taken for
    a fault of the question.
    """
    if not -1 < correlation < 1:
        return correlation
    return float(np.tanh(np.arctanh(correlation) + z_value() / np.sqrt(people - 3)))


@dataclass(frozen=True, slots=True)
class ItemReport:
    """The figures of one item or group; ``difficulty`` and ``discrimination`` None if undefined."""

    item: Hashable
    answers: int
    difficulty: float | None
    discrimination: float | None
    flags: tuple


@dataclass(frozen=True, slots=True)
class ExamReport:
    """
    The figures of an exam, each None where the points do not define it.

    ``error`` is the standard error of measurement and ``mean`` and ``spread`` the mean
    and standard deviation of totals, all three as shares of the points. ``missing``
    counts the cells without a point. ``weighed`` are sentences on how the reliability weighs the
    questions, and ``equal`` is what it is if all weigh the same, None where they do. ``notes``
    are plain sentences: why a figure lacks and what to mind in reading those that do not.
    """

    candidates: int
    missing: int
    mean: float
    spread: float | None
    reliability_name: str
    reliability: float | None
    feldt: Interval | None
    bootstrap: Interval | None
    error: float | None
    weighed: tuple
    equal: float | None
    notes: tuple


def report(pool, seed, resamples=RESAMPLES, confidence=CONFIDENCE):
    """
    Return the ExamReport of ``pool``.

    ``seed`` fixes the bootstrap; ``resamples=0`` leaves it out.
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
    feldt = bootstrap = error = equal = None
    if reliability is not None:
        if np.ptp(pool.out_of) > 0:
            equal = or_note(alpha, pool.marks / pool.out_of)
        fewest = covariances(pool.marks).candidates
        feldt = feldt_interval(reliability, fewest, len(pool.items), confidence)
        if resamples:
            bootstrap = or_note(bootstrap_interval, pool.marks, seed, resamples, confidence)
        error = or_note(standard_error_of_measurement, shares, reliability)
    if pool.missing:
        notes.append(
            _(
                "Exams did not all hold the same questions: {missing} of {size} cells are empty. "
                "Figures compare the questions that exams share, and shares of points."
            ).format(missing=pool.missing, size=pool.marks.size)
        )
    return ExamReport(
        candidates=candidates,
        missing=pool.missing,
        mean=float(shares.mean()),
        spread=float(shares.std(ddof=1)) if candidates > 1 else None,
        reliability_name="KR-20" if plain else "Cronbach’s alpha",
        reliability=reliability,
        feldt=feldt,
        bootstrap=bootstrap,
        error=error,
        weighed=weighed(pool),
        equal=equal,
        notes=tuple(notes),
    )


def weighed(pool):
    """Return sentences on what the reliability of ``pool`` takes for a question, and its weight."""
    least, most = (trimmed(end, 1) for end in (pool.out_of.min(), pool.out_of.max()))
    if least == most == "1":
        weight = _("It has {count} questions, and each weighs one point.")
    elif least == most:
        weight = _("It has {count} questions, and each weighs {most} points.")
    else:
        weight = _(
            "It has {count} questions. Each weighs the points that it can give, {least} to {most}: "
            "what gives more points moves the figure more."
        )
    found = [
        weight.format(count=len(pool.items), least=least, most=most),
        _(
            "One question is one place in the exam: a kind and level, on one rule. Each person "
            "gets it with other numbers."
        ),
    ]
    if pool.missing:
        found.append(
            _("Two questions are compared over the people who had both, not over all of them.")
        )
    return tuple(found)


def item_reports(pool):
    """
    Return an ItemReport for each item of ``pool``, or for each group of a gathered one.

    An item may say what share guessing gets right, as its ``guessed``.
    """
    figures = zip(
        pool.items,
        (~np.isnan(pool.marks)).sum(axis=0),
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
            flags(int(count), hard, sorts, getattr(item, "guessed", 0)),
        )
        for item, count, hard, sorts in figures
    )


def _or_none(value):
    return None if np.isnan(value) else float(value)
