"""
When a rule is held: told from guessing by a test that is as long as it has to be.

It is the sequential probability ratio test (A. Wald, "Sequential tests of statistical
hypotheses", Annals of Mathematical Statistics 16, 1945; from memory) of somebody who is right
with the chance KNOWS against somebody who guesses. Every call adds to the evidence, so that a
wrong one costs what it is worth and no more. Evidence that comes to speak for guessing ends the
test, and another begins. Each one that begins asks twice as much as the one before: the chances
of passing them by guessing add up to no more than RISK, however often somebody begins (Boole's
inequality).

Whoever guesses has to be right half the time whatever they say: rigs break the rule or meet it
by the toss of a coin. Plain numbers, no Django.
"""

from collections import defaultdict
from dataclasses import dataclass
from functools import cache
from math import ceil, log
from typing import NamedTuple

GUESSES, KNOWS = 0.5, 0.95
RISK = 0.05
"""How likely it is at most that somebody who only guesses ever holds a rule."""
MISSED = 0.05
"""The chance of Wald's test to give somebody up who knows."""
SOON = 12
"""Rigs within which most officers who know a rule hold it."""

_RIGHT = log(KNOWS / GUESSES)
_WRONG = log((1 - KNOWS) / (1 - GUESSES))
_GIVE_UP = log(MISSED / (1 - RISK))
_LITTLE = 1e-9


@dataclass(frozen=True)
class Count:
    """How far somebody has come on one rule: in which test, with so many calls right and wrong."""

    test: int = 1
    right: int = 0
    wrong: int = 0

    @property
    def _evidence(self):
        return self.right * _RIGHT + self.wrong * _WRONG

    @property
    def _asked(self):
        return log(2**self.test / RISK)

    @property
    def held(self):
        """Whether the evidence is enough."""
        return self._evidence >= self._asked - _LITTLE

    @property
    def to_go(self):
        """How many right calls in a row would be enough."""
        return max(0, ceil((self._asked - self._evidence) / _RIGHT - _LITTLE))

    @property
    def whole(self):
        """How many right calls in a row this test asks of somebody who makes no mistake."""
        return ceil(self._asked / _RIGHT - _LITTLE)

    def after(self, right):
        """Return the Count after one more call, right or wrong."""
        if self.held:
            # Held and then called wrong: it is to be shown once more.
            return self if right else Count(self.test + 1, wrong=1)
        found = Count(self.test, self.right + right, self.wrong + (not right))
        return Count(self.test + 1) if found._evidence <= _GIVE_UP + _LITTLE else found


@cache
def chance(share, rigs):
    """
    Return the chance that somebody who is right with the chance ``share`` holds within ``rigs``.

    Exact: every way in which so many calls can go is followed. Independent calls are assumed.
    """
    open_, held = {Count(): 1.0}, 0.0
    for _ in range(rigs):
        went = defaultdict(float)
        for count, likely in open_.items():
            for right, part in ((True, share), (False, 1 - share)):
                after = count.after(right)
                if after.held:
                    held += likely * part
                else:
                    went[after] += likely * part
        open_ = went
    return held


class HoldingFigures(NamedTuple):
    """What the test does, in percent: what pages say of it."""

    right_running: int
    wrong_adds: int
    within: int
    knows: int
    knows_held: int
    guesses_held: int


@cache
def figures():
    """Return the figures: ``knows_held`` within ``within`` rigs, ``guesses_held`` at most, ever."""
    return HoldingFigures(
        Count().whole,
        Count(wrong=1).to_go - Count().to_go,
        SOON,
        round(100 * KNOWS),
        round(100 * chance(KNOWS, SOON)),
        round(100 * RISK),
    )
