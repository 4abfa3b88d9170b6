"""
How often the interval of paired tows holds the truth: ``python -m tests.benchmarks.paired``.

Fleets are made of chance. Grounds are patchy, one tow of a pair catches more than the other
by luck, vessels differ in size and in what the sweep does for them, and make 1 to 5 pairs
each. Fish are counted whole, so many tows catch none. What is assumed has no source: it is
meant to be wider than any fleet. The truth is the ratio of the catches to be expected, over
all the vessels that such a fleet is drawn from.

Counted are fleets that have enough pairs and vessels to be shown, and an interval.
"""

import argparse
from math import exp, sqrt
from typing import NamedTuple

import numpy as np
from scipy.special import stdtrit

from rigs.statistics.paired import ENOUGH_PAIRS, ENOUGH_VESSELS
from rigs.statistics.sums import LogRatio, log_ratio

VESSELS = (6, 8, 10, 15, 20, 30)
RATIOS = (0.1, 0.16, 0.3, 0.6, 1.0, 1.2)
MOST_PAIRS = 5
FEW = 200  # intervals: fewer make no share worth printing


class Grounds(NamedTuple):
    """
    What a fleet and its grounds are like.

    ``patches`` and ``luck`` are shapes of gamma distributions, of the fish on a ground and
    of what a tow gets of them: small is patchy. ``fish`` is the mean catch with the sweep, in
    fish. ``effects`` and ``sizes`` are the spreads of the vessels' ratios and sizes, on the
    logarithm, and ``together`` how these two hang together (a correlation).
    """

    name: str
    patches: float
    luck: float
    fish: float
    effects: float
    sizes: float
    together: float = 0.0

    def truth(self, ratio):
        """Return the ratio of expected catches where vessels of the middle size have ``ratio``."""
        return ratio * exp(self.effects * self.sizes * self.together)


GROUNDS = (
    Grounds("even", 2, 4, 20, 0.2, 0.2),
    Grounds("vessels' ratios differ", 2, 4, 20, 0.5, 0.2),
    Grounds("sizes differ", 2, 4, 20, 0.2, 0.7),
    Grounds("both differ", 2, 4, 20, 0.5, 0.7),
    Grounds("both, hang together", 2, 4, 20, 0.5, 0.7, 0.3),
    Grounds("patchy", 1, 1, 10, 0.5, 0.7),
    Grounds("very patchy", 0.5, 0.5, 10, 0.5, 0.7),
    Grounds("few fish", 0.5, 1, 3, 0.5, 0.7),
)
# A few large vessels make the truth, and they are of a kind: few fleets hold one of them.
HARDER = Grounds("harder: together closely", 2, 4, 20, 0.5, 0.7, 0.6)


class Fleets(NamedTuple):
    """Many fleets: catches by (fleet, vessel, pair), nothing where there was no pair."""

    without: np.ndarray
    with_sweep: np.ndarray

    @property
    def enough(self):
        """Whether each fleet has enough to be shown."""
        told = self.without + self.with_sweep > 0
        pairs, vessels = told.sum(axis=(1, 2)), told.any(axis=2).sum(axis=1)
        return (pairs >= ENOUGH_PAIRS) & (vessels >= ENOUGH_VESSELS)

    @property
    def sums(self):
        """The vessels' sums by (fleet, vessel, way of towing)."""
        return np.stack([self.without.sum(axis=2), self.with_sweep.sum(axis=2)], axis=2)


def fleets(rng, grounds, vessels, ratio, count):
    """Return ``count`` Fleets of so many vessels each."""
    shape = (count, vessels, MOST_PAIRS)
    size, own = rng.normal(size=(2, count, vessels, 1))
    own = grounds.together * size + sqrt(1 - grounds.together**2) * own
    towed = np.arange(MOST_PAIRS) < rng.integers(1, MOST_PAIRS + 1, (count, vessels, 1))
    mean = grounds.fish * np.exp(grounds.sizes * size - grounds.sizes**2 / 2)
    mean = mean * rng.gamma(grounds.patches, 1 / grounds.patches, shape) * towed
    effect = ratio * np.exp(grounds.effects * own - grounds.effects**2 / 2)

    def tow(expected):
        caught = expected * rng.gamma(grounds.luck, 1 / grounds.luck, shape)
        return rng.poisson(caught).astype(float)

    return Fleets(tow(mean * effect), tow(mean))


def linearized(sums):
    """Return the usual interval of a ratio of sums, with t of vessels less one, or None."""
    without, with_sweep = sums.sum(axis=0)
    if not without or not with_sweep:
        return None
    ratio, count = without / with_sweep, len(sums)
    apart = sums[:, 0] - ratio * sums[:, 1]
    error = sqrt(count / (count - 1) * (apart**2).sum()) / with_sweep
    reach = stdtrit(count - 1, 0.975) * error
    return ratio - reach, ratio + reach


def jackknife(sums):
    """Return the interval of a jackknife over vessels of the logarithm, or None."""
    count = len(sums)
    rest = sums.sum(axis=0) - sums
    if not rest.all():
        return None
    logs = np.log(rest[:, 0] / rest[:, 1])
    error = sqrt((count - 1) / count * ((logs - logs.mean()) ** 2).sum())
    ratio = np.divide(*sums.sum(axis=0))
    reach = stdtrit(count - 1, 0.975) * error
    return ratio * exp(-reach), ratio * exp(reach)


def ours(sums):
    """Return the interval that the site shows, or None."""
    found = log_ratio(sums)
    return found.interval() if isinstance(found, LogRatio) else None


class Held(NamedTuple):
    """Of ``tried`` fleets how many have an interval, and of these how many miss the truth."""

    tried: int
    shown: int
    above: int
    below: int

    def __add__(self, other):
        return Held(*(a + b for a, b in zip(self, other, strict=True)))

    @property
    def share(self):
        """The share of intervals that hold the truth."""
        return 1 - (self.above + self.below) / self.shown

    @property
    def error(self):
        """The standard error of ``share``, from the count of intervals."""
        return sqrt(self.share * (1 - self.share) / self.shown)


NOTHING_HELD = Held(0, 0, 0, 0)


def held(rng, grounds, vessels, ratio, count, way=ours):
    """Return the Held of ``count`` fleets, by one way to reckon an interval."""
    made = fleets(rng, grounds, vessels, ratio, count)
    truth = grounds.truth(ratio)
    found = [way(sums) for sums in made.sums[made.enough]]
    known = [each for each in found if each is not None]
    above = sum(low > truth for low, high in known)
    return Held(count, len(known), above, sum(high < truth for low, high in known))


def _cell(found):
    if found.shown < FEW:
        return f"{'too few':>14}"
    return f"{100 * found.share:7.1f} ± {100 * found.error:.1f}".rjust(14)


def _table(title, rows):
    """Print ``rows``, each a name and its Held for each of VESSELS."""
    print(f"\n{title}\n{'':26}" + "".join(f"{n:>11} ves" for n in VESSELS))
    for name, cells in rows:
        print(f"{name:26}" + "".join(_cell(found) for found in cells))


def _sums(cells, which):
    """Return for each of VESSELS the sum of the Held whose grounds and ratio are ``which``."""
    return [
        sum(
            (each for (g, r, n), each in cells.items() if n == vessels and which(g, r)),
            NOTHING_HELD,
        )
        for vessels in VESSELS
    ]


def run(count, seed):
    """Print the tables, of so many fleets a cell of grounds, ratio and vessels."""
    rng = np.random.default_rng(seed)
    cells = {
        (grounds, ratio, vessels): held(rng, grounds, vessels, ratio, count)
        for vessels in VESSELS
        for grounds in (*GROUNDS, HARDER)
        for ratio in RATIOS
    }
    likely = {key: each for key, each in cells.items() if key[0] is not HARDER}
    by_grounds = [
        (each.name, _sums(cells, lambda g, r, each=each: g is each)) for each in (*GROUNDS, HARDER)
    ]
    print("Intervals that hold the truth, percent, with the standard error of the count.")
    _table("By grounds, all ratios", by_grounds)
    _table(
        "By true ratio, all grounds but the harder ones",
        [(f"ratio {each}", _sums(likely, lambda g, r, each=each: r == each)) for each in RATIOS],
    )
    _outside(likely)
    print("\nFleets with enough to be shown and an interval, percent")
    for name, found in by_grounds:
        print(f"{name:26}" + "".join(f"{100 * e.shown / e.tried:15.0f}" for e in found))
    _others(rng, count)


def _outside(cells):
    """Print which cells do not hold the truth 93 to 97 times in 100."""
    told = {key: each for key, each in cells.items() if each.shown >= FEW}
    good = [key for key, each in told.items() if 0.93 <= each.share <= 0.97]
    print(f"\nOf {len(told)} cells but the harder ones {len(good)} hold it 93 to 97 times in 100.")
    for key in sorted(set(told) - set(good), key=lambda key: told[key].share):
        (grounds, ratio, vessels), found = key, told[key]
        sides = f"{found.above} lie above, {found.below} below it, of {found.shown}"
        print(f"  {grounds.name}, ratio {ratio}, {vessels} vessels:{_cell(found)}; {sides}")


def _others(rng, count):
    ways = {"as the site does": ours, "jackknife, t": jackknife, "linearized, t": linearized}
    cells = {
        (name, 0.3, vessels): sum(
            (held(rng, grounds, vessels, 0.3, count, way) for grounds in GROUNDS), NOTHING_HELD
        )
        for vessels in VESSELS
        for name, way in ways.items()
    }
    _table(
        "Other ways to reckon it, ratio 0.3, all grounds but the harder ones",
        [(name, _sums(cells, lambda n, r, name=name: n == name)) for name in ways],
    )


if __name__ == "__main__":
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks.paired", description=__doc__)
    parser.add_argument("--count", type=int, default=2000, help="fleets a cell")
    parser.add_argument("--seed", type=int, default=1)
    run(**vars(parser.parse_args()))
