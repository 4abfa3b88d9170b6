"""Intervals for a share."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import binom, binomtest

from rigs.statistics.interval import clopper_pearson


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
