"""
What can be told of an answer by the look of a question, with no rule in mind.

A logistic regression is fitted to how half of the questions are written, and tried on the
other half: whatever it gets right beyond always saying the commoner answer is given away.
"""

import re

import numpy as np

from rigs.words.describe import describe
from tests.benchmarks.exams import tables
from tests.benchmarks.exams.trial import rng_for
from training.exercises import kinds
from training.exercises.handing import SEEDS
from training.exercises.kinds.base import EASIEST, HARDEST

ROUNDS, STEP, HOLD = 400, 0.5, 1e-3  # of gradient descent, and how small weights are kept


def run(count, on):
    """Print how many readings and whole rigs are told right by the look of them alone."""
    rows = []
    for slug, look, is_broken in (
        ("one-reading", _reading, lambda task: task.broken),
        ("judge-rig", _rig, lambda task: not task.verdict.legal),
    ):
        for level in range(EASIEST, HARDEST + 1):
            tasks = list(_tasks(slug, level, count, on))
            told = np.array([is_broken(task) for task in tasks], dtype=float)
            found, common = _learned(np.array([look(task) for task in tasks]), told)
            half = count - count // 2
            rows.append(
                (f"{slug} {level}", tables.percent(found, half), tables.percent(common, half))
            )
    heads = ("by look", "commoner")
    tables.show(f"Told by the look of {count} questions, percent right", heads, rows)


def _tasks(slug, level, count, on):
    kind, rng = kinds.get(slug), rng_for("attacks", slug, level)
    while count:
        seed = rng.randrange(SEEDS)
        task = kind.generate(seed, kind.pick_rulebook(seed, level, on), level)
        # What the name of a rule tells needs no looks.
        if not (hasattr(task, "requirement") and task.requirement.is_plain):
            count -= 1
            yield task


def _written(text):
    """Return how ``text`` is written: its length and what sort of figures are in it."""
    numbers = [float(each) for each in re.findall(r"\d+(?:\.\d+)?", text)]
    last = numbers[-1] if numbers else 0
    return [
        len(text),
        len(numbers),
        text.count("/"),
        text.count("."),
        text.count(","),
        text.count(" in"),
        text.count(" ft"),
        text.count(" fm"),
        text.count("1/2"),
        last % 2,
        last % 3 == 0,
        last % 5 == 0,
        sum(map(int, re.findall(r"\d", text))) % 2,
        max(numbers, default=0) % 2,
        "no" in text.lower().split(),
        "each" in text,
        "all" in text,
    ]


def _reading(task):
    text = " ".join(task.lines)
    return [*_written(text), len(task.lines), *map(len, (*task.lines, "", "")[:2])]


def _rig(task):
    lines = describe(task.rig)
    text = " ".join(f"{part} {each}" for part, each in lines)
    droppers = [each for part, each in lines if part.startswith("Dropper")]
    return [
        *_written(text),
        len(lines),
        len(droppers),
        len(set(droppers)),
        sum(part == "Floats" for part, _ in lines),
        len({each for part, each in lines if part.endswith("legs")}),
        len({each for part, each in lines if part.endswith("cable")}),
    ]


def _learned(features, told):
    """Return the shares right by a fit and by the commoner answer, on the half not fitted."""
    half = len(told) // 2
    features = np.array(features, dtype=float)
    middle, wide = features[:half].mean(axis=0), features[:half].std(axis=0)
    features = (features - middle) / np.where(wide > 0, wide, 1)
    features = np.hstack([features, np.ones((len(features), 1))])
    weights = np.zeros(features.shape[1])
    for _ in range(ROUNDS):
        chance = 1 / (1 + np.exp(-features[:half] @ weights))
        weights -= STEP * (features[:half].T @ (chance - told[:half]) / half + HOLD * weights)
    said = features[half:] @ weights > 0
    common = told[:half].mean() > 0.5
    return float(np.mean(said == told[half:])), float(np.mean(told[half:] == common))
