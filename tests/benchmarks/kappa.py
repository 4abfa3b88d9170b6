"""
How often the ranges of a round hold the truth: ``python -m tests.benchmarks.kappa``.

Rounds are made up: rigs are harder or easier, officers better or worse and quicker or slower
to call a rig broken, and some cannot tell. The truth is what thousands of other officers come
to on thousands of other rigs; of one or two officers, what these two come to. The figures of
the model have no source.
"""

from dataclasses import dataclass
from functools import lru_cache
from typing import NamedTuple

import numpy as np

from rigs.statistics.agreement import wilson_interval
from rigs.statistics.facets import FEWEST_JUDGES, share_reach
from rigs.statistics.kappa import fleiss_kappa, mutual_kappa, pooled_kappa

SAID = (0, 1, 2)  # meets the rules, breaks them, cannot tell
MANY = 1200
ROUNDS = 1000
SIZES = ((1, 24), (2, 24), (3, 24), (4, 12), (4, 24), (6, 24), (8, 40))


@dataclass(frozen=True)
class Made:
    """
    A model of rounds, its figures on the logit of being right.

    ``level`` is the mean; ``rigs``, ``officers`` and ``leaning`` are standard deviations, the
    last of how ready an officer is to call a rig broken; ``broken`` is the share of such rigs.
    """

    name: str
    level: float
    rigs: float
    officers: float
    leaning: float
    broken: float = 0.6
    unsure: float = 0.0


GOOD = Made("good", 2.2, 1, 0.5, 0.3)
MODELS = (
    Made("nearly always right", 3.5, 1, 0.5, 0.3),
    GOOD,
    Made("middling, some cannot tell", 1.2, 1, 0.5, 0.5, unsure=0.1),
    Made("weak, some cannot tell", 0.5, 0.8, 0.4, 0.5, unsure=0.1),
    Made("officers differ much", 2, 0.5, 1.2, 1),
    Made("rigs differ much", 2, 2, 0.2, 0.1),
    Made("nothing but chance differs", 2, 0, 0, 0),
    Made("few rigs break the rule", 2.5, 1, 0.5, 0.5, broken=0.12),
)


class Held(NamedTuple):
    """Of the intervals there were: the ``share`` that held, their mean ``width``; ``none``."""

    share: float
    width: float
    none: float


def officers_of(made, count, rng):
    """Return (how good each is, how each leans)."""
    return rng.normal(0, made.officers, (count, 1)), rng.normal(0, made.leaning, (count, 1))


def judged(made, officers, rigs, rng):
    """Return (what each officer says of each rig, what is so), as numbers of SAID."""
    good, leaning = officers
    so = (rng.random(rigs) < made.broken).astype(int)
    logit = made.level + good + rng.normal(0, made.rigs, rigs) + leaning * (2 * so - 1)
    right = 1 / (1 + np.exp(-logit))
    drawn = rng.random((len(good), rigs))
    said = np.where(drawn < right, so, 1 - so)
    # Whoever is near to guessing says so more often.
    is_open = rng.random(said.shape) < made.unsure * 4 * right * (1 - right)
    return np.where(is_open, 2, said), so


def figures(said, so):
    """Return the figures of one round by name, worked out plainly from the whole array."""
    table = np.zeros((3, 3))
    np.add.at(table, (said, np.broadcast_to(so, said.shape)), 1)
    p = table / table.sum()
    chance = p.sum(axis=1) @ p.sum(axis=0)
    found = {"rules": (np.trace(p) - chance) / (1 - chance), "right": np.trace(p)}
    if len(said) > 1:
        counts = np.stack([(said == each).sum(axis=0) for each in SAID], axis=1)
        found["mutual"] = fleiss_kappa(counts).kappa
    return found


@lru_cache
def truth(made):
    """Return the figures of other officers on other rigs."""
    rng = np.random.default_rng(99)
    return figures(*judged(made, officers_of(made, MANY, rng), MANY, rng))


def intervals(said, so):
    """Return the intervals by name as the site gives them, None where it gives none."""
    calls, right = said.tolist(), so.tolist()
    agreed = said == so
    if len(said) == 1:
        share = wilson_interval(int(agreed.sum()), agreed.size)
    else:
        share = share_reach(agreed.astype(float)).interval
    found = {"rules": pooled_kappa(calls, right, SAID).interval, "right": share}
    if len(said) > 1:
        found["mutual"] = mutual_kappa(calls, SAID).interval
    return found


def coverage(made, judges, rigs, rounds, seed=1):
    """Return Held by the name of the figure, over so many rounds."""
    rng = np.random.default_rng(seed)
    rows = {}
    for __ in range(rounds):
        officers = officers_of(made, judges, rng)
        of_all = truth(made)
        if judges < FEWEST_JUDGES:
            of_all = figures(*judged(made, officers, 5 * MANY, rng))
        for name, interval in intervals(*judged(made, officers, rigs, rng)).items():
            rows.setdefault(name, []).append(
                None
                if interval is None
                else (interval.low <= of_all[name] <= interval.high, interval.high - interval.low)
            )
    return {name: _held(found) for name, found in rows.items()}


def _held(found):
    given = [each for each in found if each is not None]
    share, width = np.mean(given, axis=0)
    return Held(share, width, 1 - len(given) / len(found))


def run(rounds=ROUNDS):
    """Print how often the intervals hold the truth, how wide they are, and how often none is."""
    print(
        f"Intervals of 95 percent that hold the truth, in 100 of those there are; {rounds} rounds"
    )
    print("With 1 or 2 officers the truth is theirs on other rigs, else other officers' too.")
    names = {"rules": "kappa with rules", "mutual": "with each other", "right": "share right"}
    print(f"{'':28}{'officers':>9}{'rigs':>6}" + "".join(f"{name:>24}" for name in names.values()))
    for made in MODELS:
        for judges, rigs in SIZES:
            found = coverage(made, judges, rigs, rounds)
            cells = [
                f"{100 * held.share:5.1f} wide {held.width:.2f} none {100 * held.none:3.0f}"
                if held
                else "-"
                for held in map(found.get, names)
            ]
            print(f"{made.name:28}{judges:9}{rigs:6}" + "".join(f"{each:>24}" for each in cells))


if __name__ == "__main__":
    run()
