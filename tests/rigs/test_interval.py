"""Intervals for a share."""

import random

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import binom, binomtest

from rigs.statistics.interval import clopper_pearson, ratio


@given(st.integers(1, 400).flatmap(lambda n: st.tuples(st.integers(0, n), st.just(n))))
def test_agrees_with_scipys_own_exact_interval(counts):
    hits, trials = counts
    ours = clopper_pearson(hits, trials)
    theirs = binomtest(hits, trials).proportion_ci(0.95, method="exact")
    assert ours.low == pytest.approx(theirs.low, abs=1e-9)
    assert ours.high == pytest.approx(theirs.high, abs=1e-9)


@given(st.integers(1, 60).flatmap(lambda n: st.tuples(st.integers(0, n), st.just(n))))
def test_meets_its_definition(counts):
    """At each bound the tail beyond what was seen has half of what is left over."""
    hits, trials = counts
    low, high = clopper_pearson(hits, trials, 0.9)
    if hits:
        assert binom.sf(hits - 1, trials, low) == pytest.approx(0.05, rel=1e-6)
    if hits < trials:
        assert binom.cdf(hits, trials, high) == pytest.approx(0.05, rel=1e-6)


def test_nothing_seen_still_leaves_an_upper_bound():
    """1 - 0.025 ** (1/n) for none in n, from the binomial itself."""
    assert clopper_pearson(0, 20) == (0.0, pytest.approx(1 - 0.025 ** (1 / 20)))
    assert clopper_pearson(20, 20) == (pytest.approx(0.025 ** (1 / 20)), 1.0)


@pytest.mark.parametrize(
    ("hits", "trials", "confidence"),
    [(1, 0, 0.95), (-1, 5, 0.95), (6, 5, 0.95), (1.5, 5, 0.95), (1, 5, 1.0), (1, 5, 0)],
)
def test_counts_that_cannot_be_are_refused(hits, trials, confidence):
    with pytest.raises(ValueError, match="[a-z]"):
        clopper_pearson(hits, trials, confidence)


def test_ratio_by_hand():
    """Own arithmetic: shares of 4/100 and 12/100, R = 0.08, deviations -4 and +4."""
    share, interval = ratio([4, 12], [100, 100])
    assert share == pytest.approx(0.08)
    # Standard error sqrt(2/1 * (16 + 16)) / 200 = 0.04; t(0.975, 1) = 12.706.
    assert interval.low == 0
    assert interval.high == pytest.approx(0.08 + 12.7062 * 0.04, rel=1e-5)


def test_ratio_weighs_tows_by_their_catch():
    share, _ = ratio([10, 0], [100, 900])
    assert share == pytest.approx(0.01)


@pytest.mark.parametrize(
    ("parts", "wholes"), [([3], [100]), ([0, 0, 0], [50, 60, 70]), ([5, 0], [100, 0])]
)
def test_no_interval_where_tows_cannot_tell(parts, wholes):
    assert ratio(parts, wholes)[1] is None


@pytest.mark.parametrize(("parts", "wholes"), [([1], [0]), ([-1], [5]), ([], []), ([0], [0])])
def test_weights_that_cannot_be_are_refused(parts, wholes):
    with pytest.raises(ValueError, match="catch"):
        ratio(parts, wholes)


def test_ratio_covers_the_true_share_about_as_often_as_it_says():
    """Made-up tows of a known share: of 400 intervals from 12 tows, about 95 in 100 hold it."""
    rng = random.Random(7)
    held = 0
    for _ in range(400):
        wholes = [rng.uniform(200, 800) for _ in range(12)]
        parts = [whole * rng.betavariate(4, 76) for whole in wholes]
        _, interval = ratio(parts, wholes)
        held += interval.low <= 0.05 <= interval.high
    assert 0.90 <= held / 400 <= 0.98
