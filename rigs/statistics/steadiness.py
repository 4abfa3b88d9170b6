"""
Would a person get the same verdict again, and is it the right one?

An exam passes whoever has enough points and, in each rule that must be right, no more
slips than are allowed. So the figures here come from the whole verdict, not from the
points alone.

The model is fitted to the answers: a person has one ability, drawn from a normal
distribution; what share of the questions on a rule the person gets right over many exams
is drawn around what that ability makes likely, since a rule is mostly known or not; and
the answers on one exam are drawn by that share. Of a rule with a single question nobody can
say that, so there ability alone decides. So the right answers on one rule are
beta-binomial (Skellam 1948), given an ability that is integrated out as in marginal
maximum likelihood (Bock and Lieberman 1970). Two more exams are then drawn for everybody.
Agreement of two verdicts is Swaminathan, Hambleton and Algina's (1974) coefficient and
kappa; accuracy is against the verdict that the person's own long-run shares deserve.
All sources from memory.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from rigs.words.say import gettext as _

from .arrays import Counts, Figures, Flags

NODES = 41
REACH = 4  # standard deviations on either side that abilities are looked for
SPREADS = (0.05, 0.25, 0.5, 0.75, 1, 1.25, 1.5, 2, 2.5, 3, 4)
TIES = (100, 25, 12, 7, 4, 2.5, 1.5, 1, 0.7, 0.4, 0.2)
UNTIED = 1e5
DRAWS = 200


class NothingToTell(ValueError):
    """Answers from which no verdict on the verdicts follows; the message says why."""


@dataclass(frozen=True, slots=True)
class Shape:
    """
    What a form holds, group of questions by group: ``asked`` questions each.

    ``needed`` is how many right answers pass; ``slips`` maps the place of a group that is
    about a rule that must be right to how many wrong answers are allowed there.
    """

    asked: tuple[int, ...]
    needed: int
    slips: Mapping[int, int]

    def passes(self, right: Counts | Figures) -> Flags:
        """Return whether ``right`` answers pass: an array whose last axis is the groups."""
        # A hair is given, so that a sum of shares that should be whole is.
        passed: Flags = right.sum(axis=-1) >= self.needed - 1e-9
        for group, allowed in self.slips.items():
            passed &= self.asked[group] - right[..., group] <= allowed + 1e-9
        return passed


@dataclass(frozen=True, slots=True)
class Steadiness:
    """
    Shares from 0 to 1 of people like those who took the exam.

    ``consistent``: the same verdict on two forms; ``by_chance``: if the two had nothing to do
    with each other; ``kappa`` what is left beyond that, None where chance leaves nothing.
    ``accurate``: the verdict that they deserve; ``false_pass`` and ``false_fail`` the rest:
    passed without deserving it, and the other way. ``people`` is how many it rests on.
    """

    consistent: float
    by_chance: float
    kappa: float | None
    accurate: float
    false_pass: float
    false_fail: float
    people: int


def steadiness(right: ArrayLike, exam: Shape, seed: int, draws: int = DRAWS) -> Steadiness:
    """
    Return the Steadiness of ``exam``, a Shape, from the answers of those who took it once.

    ``right`` is an array of people by groups: how many of the group's questions each had
    right. The same ``seed`` gives the same figures.

    Raises NothingToTell for fewer than two people, and when all had the same answers.
    """
    right = np.asarray(right)
    if len(right) < 2:
        raise NothingToTell(_("It takes the answers of two people at least."))
    if (right == right[0]).all():
        raise NothingToTell(_("Everyone has the same answers, so there is nothing to compare."))
    asked = np.array(exam.asked)
    fit = _fitted(right, asked)
    ties = np.where(asked > 1, fit.ties, UNTIED)
    rng = np.random.default_rng(seed)
    verdicts = []
    for row, weights in zip(right, fit.weights, strict=True):
        drawn = rng.choice(len(fit.nodes), size=draws, p=weights)
        middle = fit.chance[drawn]
        share = rng.beta(ties * middle + row, ties * (1 - middle) + asked - row)
        once, again = rng.binomial(asked, share), rng.binomial(asked, share)
        verdicts.append([exam.passes(each) for each in (once, again, share * asked)])
    first, second, deserved = np.concatenate(verdicts, axis=1)
    consistent = float((first == second).mean())
    passing = float((first.mean() + second.mean()) / 2)
    by_chance = passing**2 + (1 - passing) ** 2
    return Steadiness(
        consistent=consistent,
        by_chance=by_chance,
        kappa=(consistent - by_chance) / (1 - by_chance) if by_chance < 1 - 1e-12 else None,
        accurate=float((first == deserved).mean()),
        false_pass=float((first & ~deserved).mean()),
        false_fail=float((~first & deserved).mean()),
        people=len(right),
    )


class _Fit(NamedTuple):
    """
    The model with one pair of its figures.

    ``nodes`` are abilities, ``chance`` how likely each is right by group, and ``weights``
    how likely each is by person.
    """

    likelihood: float
    nodes: Figures
    chance: Figures
    ties: float
    weights: Figures


def _fitted(right: Counts, asked: Counts) -> _Fit:
    """
    Return the _Fit that makes the answers likeliest.

    The two figures of the model, how far abilities spread and how much the questions on a
    rule go together (the smaller ``ties``, the more), come from a grid.
    """
    return max(_fits(right, asked), key=lambda fit: fit.likelihood)


def _fits(right: Counts, asked: Counts) -> Iterator[_Fit]:
    """Yield the _Fit of each pair of figures on the grid."""
    from scipy.special import expit, logsumexp

    units = np.linspace(-REACH, REACH, NODES)
    prior = -(units**2) / 2
    prior -= logsumexp(prior)
    # Half an answer on either side, so that a rule that everybody knows stays possible to miss.
    shares = (right.sum(axis=0) + 0.5) / (len(right) * asked + 1)
    for spread in SPREADS:
        nodes = units * spread
        chance = np.clip(expit(nodes[:, None] - _hardness(shares, nodes, prior)), 1e-4, 1 - 1e-4)
        for ties in TIES:
            logs = _log_likelihood(right, asked, chance, ties) + prior
            total = logsumexp(logs, axis=1)
            weights = np.exp(logs - total[:, None])
            weights /= weights.sum(axis=1, keepdims=True)
            yield _Fit(float(total.sum()), nodes, chance, ties, weights)


def _hardness(shares: Figures, nodes: Figures, prior: Figures) -> Figures:
    """Return how hard each group is, so that its expected share right is that of ``shares``."""
    from scipy.special import expit

    low, high = np.full(len(shares), -30.0), np.full(len(shares), 30.0)
    weights = np.exp(prior)
    for __ in range(50):
        middle = (low + high) / 2
        too_easy = weights @ expit(nodes[:, None] - middle) > shares
        low, high = np.where(too_easy, middle, low), np.where(too_easy, high, middle)
    hardness: Figures = (low + high) / 2
    return hardness


def _log_likelihood(right: Counts, asked: Counts, chance: Figures, ties: float) -> Figures:
    """Return the log likelihood of each person's answers at each ability: people by abilities."""
    from scipy.special import betaln, gammaln

    found = np.zeros((len(right), len(chance)))
    for group, questions in enumerate(asked):
        counts = np.arange(questions + 1)
        ways = gammaln(questions + 1) - gammaln(counts + 1) - gammaln(questions - counts + 1)
        tied = ties if questions > 1 else UNTIED
        a, b = tied * chance[:, group, None], tied * (1 - chance[:, group, None])
        logs = ways + betaln(a + counts, b + questions - counts) - betaln(a, b)
        found += logs[:, right[:, group]].T
    return found


def error_at_cut(needed: int, questions: int) -> float:
    """
    Return the standard error of measurement of a person who scores just ``needed``, in points.

    Lord's binomial error: the root of x (n - x) / (n - 1), for x right of n ``questions``
    that each give one point (Lord 1955, from memory). It is what counts at the pass mark, where
    the mean error of all who took the exam says too much or too little.
    """
    return float(np.sqrt(needed * (questions - needed) / (questions - 1)))
