"""
How far from its limit a reading lies, by level: far at level 1, a near miss at level 3.

Each requirement has a step, the finest that a tape or a gauge on deck tells apart, and so many
steps to a round figure (common practice, no source). At level 3 a reading lies no further off
than the next round figure, at level 2 than the second, at level 1 than the third. So no side has
the rounder figures, and whoever takes the nearest round figure for the limit is wrong as often
as right where limits are round.
"""

from dataclasses import dataclass
from math import inf
from random import Random
from typing import Any, Protocol

from rigs.words.sizes import CHAIN_LADDER
from rigs.words.units import INCH

LEVELS = (1, 2, 3)
NEAREST = LEVELS[-1]

OFTEN_ROUND = 1 / 6  # how often a reading is a round figure, on either side of its limit


class Limited(Protocol):
    """What of a rule is asked here: a ``rulebook.Requirement`` has it all."""

    @property
    def limit(self) -> Any: ...

    @property
    def test(self) -> str: ...

    @property
    def is_upper(self) -> bool: ...


@dataclass(frozen=True)
class Steps:
    """
    How readings lie about their limit that are measured with a tape or a gauge, or counted.

    ``step`` is the finest told apart, SI, ``to_round`` so many steps to a round figure; no
    reading is below ``least``.
    """

    step: float
    to_round: int
    least: float = -inf

    def distance(self, rng: Random, level: int) -> float:
        """Return how far off its limit a reading lies, SI; at least a step."""
        furthest = (NEAREST + 1 - level) * self.to_round
        if rng.random() < max(OFTEN_ROUND, 1 / self.to_round):
            return furthest * self.step
        return (furthest - rng.randrange(1, self.to_round)) * self.step

    def reading(
        self,
        rng: Random,
        rule: Limited,
        broken: bool,
        level: int,
        edge_breaks: bool | None = None,
    ) -> float:
        """
        Return a reading that breaks or keeps ``rule``, at the distance of ``level``, SI.

        Of the nearest some are at the very limit, on the side that ``edge_breaks`` says, or
        else the test of the rule; the other side has the next round figure as often.
        """
        if edge_breaks is None:
            edge_breaks = rule.test == "more than"
        off, at_limit = self.distance(rng, level), rng.random() < 1 / 2
        next_round = off == self.to_round * self.step
        if at_limit and level == NEAREST and broken is edge_breaks and next_round:
            off = 0.0
        value: float = rule.limit + (off if broken is rule.is_upper else -off)
        return max(value, self.least)

    def span(self, rule: Limited, level: int) -> tuple[float, float]:
        """
        Return the least and the most, SI, by which a reading that breaks ``rule`` misses its limit.

        One that keeps it is off by as much, or lies at the limit itself at the nearest level.
        """
        nearer = (NEAREST - level) * self.to_round
        return (nearer + 1) * self.step, (nearer + self.to_round) * self.step

    def around(self, rng: Random, rule: Limited, level: int, count: int) -> list[float]:
        """
        Return ``count`` readings in SI, the smallest first, with the limit anywhere about them.

        None, some or all keep it, each number as likely where sizes allow. The limit lies at
        random within one of the gaps, which are all drawn alike: narrow at level 3, wide at
        level 1. So neither the place of a reading nor the gaps tell where the limit is.
        """
        half = max(1, self.to_round // 2)
        narrow, wide = (1, half), (self.to_round + 1, 2 * self.to_round)
        least, most = (wide, (half + 1, self.to_round), narrow)[level - 1]
        gap = rng.randint(least, most)
        kept = rng.randrange(gap)
        met, broken = rng.randint(0, count), gap - kept
        away = -self.step if rule.is_upper else self.step
        found: list[float] = []
        while len(found) < met and rule.limit + kept * away > self.step / 2:
            found.append(rule.limit + kept * away)
            kept += rng.randint(least, most)
        while len(found) < count and rule.limit - broken * away > self.step / 2:
            found.append(rule.limit - broken * away)
            broken += rng.randint(least, most)
        return sorted(found)


class SoldChain:
    """How chain lies about its limit: in steps from one size that is sold to the next."""

    _SIZES = ((3, 4), (2, 3), (1, 2))  # how many sizes off, by level

    def reading(
        self,
        rng: Random,
        rule: Limited,
        broken: bool,
        level: int,
        edge_breaks: bool | None = None,
    ) -> float:
        """Return a size that is sold, as many sizes off the limit as ``level`` says."""
        steps = rng.randint(*self._SIZES[level - 1])
        below, above = self._ladders(rule)
        ladder = above if broken else below
        return ladder[min(steps, len(ladder)) - 1]

    def span(self, rule: Limited, level: int) -> tuple[float, float]:
        """Return the least and the most by which a size is over its limit."""
        _, above = self._ladders(rule)
        least, most = (above[min(at, len(above)) - 1] for at in self._SIZES[level - 1])
        return least - rule.limit, most - rule.limit

    def around(self, rng: Random, rule: Limited, level: int, count: int) -> list[float]:
        """Return sizes that follow each other, with the limit anywhere about them."""
        below, above = self._ladders(rule)
        if level == LEVELS[0]:  # every other one
            offset = rng.randrange(2)
            below, above = below[offset::2], above[1 - offset :: 2]
        met = rng.randint(max(0, count - len(above)), min(count, len(below)))
        return sorted(below[:met] + above[: count - met])

    def _ladders(self, rule: Limited) -> tuple[list[float], list[float]]:
        """Return the sizes that keep the limit and those that do not, each the nearest first."""
        limit = rule.limit + INCH / 64
        below = [size for size in reversed(CHAIN_LADDER) if size <= limit]
        return below, [size for size in CHAIN_LADDER if size > limit]
