"""What is handed to a part of the gear that is to be drawn sound, and how it is sized."""

from collections.abc import Iterable
from dataclasses import dataclass
from random import Random

from rigs.words.units import INCH, ROUNDING

from .making import Rules

_FINEST = INCH / 32  # between two sizes that are sold


@dataclass(frozen=True)
class Sizing:
    """
    Sizes of a sound rig, drawn at random under the limits of one rule set.

    ``level`` from 1 to 3: the higher, the nearer to their limits, and the less even the net.
    All sizes are SI. Each method raises KeyError if the rule set has no such requirement.
    """

    rng: Random
    rules: Rules
    level: int

    def limit(self, key: str) -> float:
        """Return the limit of the requirement ``key``."""
        limit: float = self.rules.requirement(key).limit
        return limit

    def sound(self, key: str) -> float:
        """Return a reading that keeps the requirement ``key``, as near as the level has it."""
        rule = self.rules.requirement(key)
        value: float = rule.measure.scale.reading(self.rng, rule, False, self.level)
        return value

    def upto(self, key: str, sold: Iterable[float]) -> float:
        """Return one of the three largest sizes ``sold`` that keep the upper limit of ``key``."""
        limit = self.limit(key) + ROUNDING
        return self.rng.choice([size for size in sold if size <= limit][-3:])

    def below(self, key: str, sold: Iterable[float]) -> float:
        """Return one of the two largest sizes ``sold`` that are clear of the limit of ``key``."""
        limit = self.limit(key) - _FINEST
        return self.rng.choice([size for size in sold if size < limit][-2:])

    def above(self, key: str, sold: Iterable[float]) -> float:
        """Return one of the two smallest sizes ``sold`` that are clear of the limit of ``key``."""
        limit = self.limit(key) + _FINEST
        return self.rng.choice([size for size in sold if size > limit][:2])
