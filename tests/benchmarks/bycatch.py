"""
How often a share of bottom animals is misjudged: ``python -m tests.benchmarks.bycatch``.

Logs of tows are made of chance, with a true share of exactly the standard and of others. What
is assumed of the tows has no source: from even catches to a log in which one tow in ten has
all the bottom animals. "Under" and "over" at exactly the standard are both false.
"""

import argparse
from collections import Counter

import numpy as np

from rigs.tuning import Catch, bycatch, standard
from tests.benchmarks.exams.tables import error, show

TOWS = (2, 3, 4, 5, 6, 8, 10, 12, 15, 20, 30, 40)
SPREAD = 0.5  # of the logarithm of a tow's other catch


def _gamma(shape):
    return lambda rng, size: rng.gamma(shape, 1 / shape, size)


def _lognormal(spread):
    return lambda rng, size: np.exp(rng.normal(0, spread, size) - spread**2 / 2)


def _some(share):
    """All bottom animals in this ``share`` of the tows."""
    return lambda rng, size: (rng.random(size) < share) / share * rng.gamma(2, 0.5, size)


def _fish(mean, shape):
    """Whole fish, so many a tow on the average, on patchy ground."""
    return lambda rng, size: rng.poisson(mean * rng.gamma(shape, 1 / shape, size)) / mean


CATCHES = {
    "even (gamma of shape 4)": _gamma(4),
    "gamma of shape 1": _gamma(1),
    "gamma of shape 0.5": _gamma(0.5),
    "gamma of shape 0.3": _gamma(0.3),
    "gamma of shape 0.2": _gamma(0.2),
    "lognormal, spread 1": _lognormal(1),
    "lognormal, spread 1.5": _lognormal(1.5),
    "in half of the tows": _some(0.5),
    "in one tow of four": _some(0.25),
    "in one tow of ten": _some(0.1),
    "1 fish a tow, patchy": _fish(1, 1),
    "3 fish a tow, very patchy": _fish(3, 0.5),
}


def logs(rng, catches, tows, share, count):
    """Return ``count`` logs of so many ``tows``: weights of (other catch, bottom animals)."""
    other = np.exp(rng.normal(0, SPREAD, (count, tows)) - SPREAD**2 / 2)
    bottom = catches(rng, (count, tows)) * share / (1 - share)
    return np.stack([other, bottom], axis=2)


def verdicts(rng, catches, tows, share, count):
    """Return a Counter of the verdicts on ``count`` logs."""
    rule = standard()
    return Counter(
        str(bycatch([Catch(*tow) for tow in log], rule).verdict)
        for log in logs(rng, catches, tows, share, count)
    )


def _cell(share, count):
    return f"{100 * share:5.1f}±{100 * error(share, count):.1f}"


def _table(rng, title, verdict, share, count):
    rows, most = [], 0.0
    for name, catches in CATCHES.items():
        said = [verdicts(rng, catches, tows, share, count)[verdict] / count for tows in TOWS]
        most = max(most, *said)
        rows.append((name, *(_cell(each, count) for each in said)))
    show(title, [f"{tows} tows".rjust(9) for tows in TOWS], rows, wide=28)
    print(f"The most: {100 * most:.1f} in 100.")


def run(count, seed):
    """Print the tables, of so many logs a cell; each is of percent with its standard error."""
    rng, rule = np.random.default_rng(seed), standard()
    at = rule.limit
    _table(rng, f"Said to be under at exactly {at:.0%}: false", "under", at, count)
    _table(rng, f"Said to be over at exactly {at:.0%}: false", "over", at, count)
    for part in (0.2, 0.4):
        _table(rng, f"Said to be under at {at * part:.0%}: right", "under", at * part, count)
    for times in (2, 4):
        _table(rng, f"Said to be over at {at * times:.0%}: right", "over", at * times, count)


if __name__ == "__main__":
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks.bycatch", description=__doc__)
    parser.add_argument("--count", type=int, default=1000, help="logs a cell")
    parser.add_argument("--seed", type=int, default=1)
    run(**vars(parser.parse_args()))
