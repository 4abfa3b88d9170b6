"""
Livingston and Lewis (1995): the steadiness of a verdict by points alone, from one sitting.

Another way to estimate what ``rigs.statistics.steadiness`` does, without rules that must
be right: the two are compared. From memory.
"""

from dataclasses import dataclass

import numpy as np
from scipy.special import betaln, gammaln

from rigs.statistics.items import MeasureError


@dataclass(frozen=True, slots=True)
class Consistency:
    """
    Would a second exam of the same kind pass and fail the same people?

    ``consistent`` is the expected share of candidates with the same outcome on both,
    ``by_chance`` the share that two unrelated exams of the same pass rate would give,
    ``kappa`` what is left beyond chance (None when everybody is bound to one outcome).
    ``length`` is the number of right-or-wrong items that would be as reliable.
    """

    consistent: float
    by_chance: float
    kappa: float | None
    length: int


def decision_consistency(shares, reliability, cut):
    """
    Return the Consistency of pass and fail at ``cut``, from one sitting.

    Livingston and Lewis (1995): the exam is likened to one of n right-or-wrong items
    of equal worth, n chosen so that it is as reliable. True shares follow a beta
    distribution and totals a binomial one; of the beta distribution only mean and
    spread are fitted (two parameters). For right-or-wrong items of equal worth and
    ``reliability`` by KR-21 this is exactly Huynh's (1976) index. A candidate passes
    with a share of at least ``cut``.

    ``shares`` are the candidates' shares of the marks, 0 to 1. Limits: it says how
    steady the verdict is, not whether it is right; it is only as good as
    ``reliability``; n is rounded to a whole number and the cut up to the next mark of
    n; must-pass rules are not in it; with fewer than some 50 candidates it is rough.

    Raises MeasureError when the shares do not vary, when the reliability is not between
    0 and 1, or when the cut is not within 0 and 1.
    """
    if not 0 <= cut <= 1:
        raise MeasureError("The score to pass is a share from 0 to 1.")
    if not 0 < reliability < 1:
        raise MeasureError("Consistency needs a reliability between 0 and 1.")
    mean, variance = float(np.mean(shares)), float(np.var(shares))
    if variance <= 1e-15:
        raise MeasureError("Everyone has the same total, so there is nothing to compare.")
    length = effective_length(mean, variance, reliability)
    a_and_b = length * (1 - reliability) / reliability
    a, b = mean * a_and_b, (1 - mean) * a_and_b
    # A hair is taken off so that 0.7 of 10 is 7 and not, by rounding, 8.
    needed = int(np.ceil(length * cut - 1e-9))
    fails_once, fails_twice = failing_probabilities(length, a, b, needed)
    pass_rate = 1 - fails_once
    consistent = float(1 - 2 * (fails_once - fails_twice))
    by_chance = float(pass_rate**2 + (1 - pass_rate) ** 2)
    kappa = (consistent - by_chance) / (1 - by_chance) if 1 - by_chance > 1e-12 else None
    return Consistency(consistent, by_chance, kappa, length)


def effective_length(mean, variance, reliability):
    """
    Return how many right-or-wrong items would be as reliable, at least one.

    ``mean`` and ``variance`` are of shares from 0 to 1. Livingston and Lewis (1995).
    """
    length = (mean * (1 - mean) - reliability * variance) / (variance * (1 - reliability))
    return max(1, round(length))


def failing_probabilities(length, a, b, needed):
    """
    Return the chances to score below ``needed`` on one paper, and on both of two.

    Both exams have ``length`` items; scores are binomial with the same true share,
    which follows beta(``a``, ``b``): the beta-binomial distribution and its pair.
    """
    scores = np.arange(needed)
    ways = gammaln(length + 1) - gammaln(scores + 1) - gammaln(length - scores + 1)
    whole = betaln(a, b)
    once = np.exp(ways + betaln(a + scores, b + length - scores) - whole).sum()
    twice = 0.0
    # Row by row: a very reliable exam is likened to thousands of items.
    for score in scores:
        right = score + scores
        logs = betaln(a + right, b + 2 * length - right) - whole
        twice += np.exp(ways[score] + ways + logs).sum()
    return float(once), float(twice)
