"""Paired tows, against published paired data and against scipy and statsmodels."""

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy import stats
from statsmodels.stats.weightstats import DescrStatsW

from rigs.statistics.paired import (
    ENOUGH_PAIRS,
    Pair,
    compare,
    paired_t,
    signed_rank_p,
    total_ratio_interval,
)

NEAR = {"rel": 1e-9, "abs": 1e-12}

# Student (1908), extra hours of sleep of ten patients under two drugs (from memory).
FIRST_DRUG = np.array([0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0.0, 2.0])
SECOND_DRUG = np.array([1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4])

# Hollander and Wolfe, Nonparametric Statistical Methods (1973): a depression scale of
# nine patients before and after a tranquilliser (from memory).
BEFORE = np.array([1.83, 0.50, 1.62, 2.48, 1.68, 1.88, 1.55, 3.06, 1.30])
AFTER = np.array([0.878, 0.647, 0.598, 2.05, 1.06, 1.29, 1.06, 3.14, 1.29])

catches = st.floats(0.5, 500)
vessels = st.sampled_from([None, "Dovekie", "Phalarope"])
paired_tows = st.lists(st.builds(Pair, catches, catches, vessels), min_size=2, max_size=40)
differences = st.lists(st.integers(-1000, 1000), min_size=2, max_size=40)


def test_paired_t_of_students_sleep_data():
    # t = 4.06 on 9 degrees, p = 0.0028, interval 0.70 to 2.46 (from memory).
    result = paired_t(SECOND_DRUG - FIRST_DRUG)
    assert result.mean == pytest.approx(1.58)
    assert result.t == pytest.approx(4.0621, abs=5e-5)
    assert result.freedom == 9
    assert result.p == pytest.approx(0.002833, abs=5e-7)
    assert result.interval == pytest.approx((0.7001142, 2.4598858), abs=5e-7)


@given(differences, st.sampled_from([0.8, 0.95]))
def test_paired_t_equals_scipy_and_statsmodels(values, confidence):
    assume(len(set(values)) > 1)
    ours = paired_t(values, confidence)
    theirs = stats.ttest_1samp(values, 0)
    assert ours.t == pytest.approx(theirs.statistic, **NEAR)
    assert ours.p == pytest.approx(theirs.pvalue, **NEAR)
    assert ours.freedom == theirs.df
    interval = theirs.confidence_interval(confidence)
    assert ours.interval == pytest.approx((interval.low, interval.high), **NEAR)
    other = DescrStatsW(values).tconfint_mean(alpha=1 - confidence)
    assert ours.interval == pytest.approx(other, **NEAR)


def test_paired_t_of_differences_all_alike():
    result = paired_t([0.1 + 0.2, 0.3, 0.3])
    assert (result.t, result.p) == (None, None)
    assert result.interval == pytest.approx((0.3, 0.3))
    assert paired_t([0, 0]).t is None


def test_paired_t_of_one_pair_is_refused():
    with pytest.raises(ValueError, match="at least two"):
        paired_t([1.0])


def test_signed_ranks_of_hollander_and_wolfe():
    # One-sided p 0.0195, as published; two-sided twice that (from memory).
    assert signed_rank_p(BEFORE - AFTER) == pytest.approx(2 * 0.01953, abs=1e-5)


def test_signed_ranks_with_a_tie_and_a_nought():
    # Student's data once more; 0.009091 with the correction for continuity (from memory).
    assert signed_rank_p(SECOND_DRUG - FIRST_DRUG) == pytest.approx(0.009091, abs=5e-7)


@given(st.sets(st.integers(1, 400), min_size=1, max_size=12), st.data())
def test_signed_ranks_without_ties_equal_full_enumeration(sizes, data):
    signs = data.draw(st.lists(st.booleans(), min_size=len(sizes), max_size=len(sizes)))
    values = [size if up else -size for size, up in zip(sorted(sizes), signs, strict=True)]
    ranks = np.arange(1, len(values) + 1)
    chances = np.ones(1)
    for rank in ranks:
        chances = np.convolve(chances, np.r_[0.5, np.zeros(rank - 1), 0.5])
    smaller = min(ranks[signs].sum(), ranks[~np.array(signs)].sum())
    expected = min(1, 2 * chances[: smaller + 1].sum())
    assert signed_rank_p(values) == pytest.approx(expected, **NEAR)


def test_signed_ranks_of_no_differences():
    assert signed_rank_p([0, 0, 0]) is None


@given(paired_tows)
def test_ratio_is_the_paired_t_of_the_logarithms(pairs):
    result = compare(pairs, seed=1, resamples=50)
    logs = [np.log(pair.without_sweep / pair.with_sweep) for pair in pairs]
    assert result.ratio == pytest.approx(stats.gmean(np.exp(logs)), rel=1e-9)
    if np.ptp(logs) > 1e-6:
        theirs = stats.ttest_1samp(logs, 0)
        interval = theirs.confidence_interval(0.95)
        assert result.interval == pytest.approx(np.exp([interval.low, interval.high]), rel=1e-7)
        assert result.p == pytest.approx(theirs.pvalue, rel=1e-7, abs=1e-12)
    assert result.interval.low <= result.ratio <= result.interval.high


@given(paired_tows)
def test_swapping_the_nets_turns_the_ratio_over(pairs):
    there = compare(pairs, seed=1, resamples=20)
    back = compare([Pair(pair.with_sweep, pair.without_sweep) for pair in pairs], 1, 20)
    assert back.ratio == pytest.approx(1 / there.ratio)
    assert back.total_ratio == pytest.approx(1 / there.total_ratio)
    assert back.interval == pytest.approx((1 / there.interval.high, 1 / there.interval.low))


def test_a_pair_with_nothing_in_a_tow_is_in_the_totals_only():
    pairs = [Pair(2, 4), Pair(0, 6), Pair(4, 8), Pair(1, 0)]
    result = compare(pairs, seed=1)
    assert (result.pairs, result.used, result.left_out) == (4, 2, 2)
    assert result.ratio == pytest.approx(0.5)
    assert result.total_ratio == pytest.approx(7 / 18)


def test_nothing_caught_with_the_sweep_has_no_ratio():
    result = compare([Pair(2, 0), Pair(1, 0)], seed=1)
    assert (result.ratio, result.total_ratio, result.total_interval) == (None, None, None)
    assert result.rank_p is not None


def test_mostly_empty_tows_leave_the_ratio_without_an_upper_end():
    pairs = [Pair(1, 0)] * 5 + [Pair(1, 1)]
    result = compare(pairs, seed=1)
    assert result.total_ratio == 6
    assert result.total_interval is None


def made_up_pairs(seed, vessels, tows):
    rng = np.random.default_rng(seed)
    pairs = []
    for vessel in range(vessels):
        leaning = rng.normal(np.log(0.5), 0.4)
        for _ in range(tows):
            catch = rng.gamma(4, 20)
            pairs.append(Pair(catch * np.exp(leaning + rng.normal(0, 0.1)), catch, vessel))
    return pairs


def test_bootstrap_equals_scipys():
    pairs = made_up_pairs(2, vessels=25, tows=1)
    sums = np.array([pair[:2] for pair in pairs])
    reference = stats.bootstrap(
        (np.arange(25),),
        lambda rows: sums[rows, 0].sum() / sums[rows, 1].sum(),
        vectorized=False,
        n_resamples=500,
        method="percentile",
        confidence_level=0.9,
        rng=np.random.default_rng(6),
    ).confidence_interval
    ours = total_ratio_interval(sums, seed=6, resamples=500, confidence=0.9)
    assert ours == pytest.approx(tuple(reference), **NEAR)


def test_bootstrap_is_fixed_by_its_seed():
    pairs = made_up_pairs(3, vessels=12, tows=2)
    first = compare(pairs, seed=1).total_interval
    assert first == compare(pairs, seed=1).total_interval
    assert first != compare(pairs, seed=2).total_interval


def test_bootstrap_draws_whole_vessels():
    # Five tows of a vessel say little more than one: taking them as strangers to one
    # another would make the interval far too narrow.
    pairs = made_up_pairs(4, vessels=8, tows=10)
    by_vessel = compare(pairs, seed=1)
    strangers = compare([Pair(*pair[:2]) for pair in pairs], seed=1)
    assert (by_vessel.vessels, strangers.vessels) == (8, 80)
    width = np.ptp(by_vessel.total_interval)
    assert width > 1.5 * np.ptp(strangers.total_interval)


def test_one_vessel_has_no_bootstrap_interval():
    result = compare([Pair(1, 2, "Dovekie"), Pair(2, 3, "Dovekie")], seed=1)
    assert result.vessels == 1
    assert result.total_interval is None
    assert result.interval is not None


def test_one_pair_has_no_interval_or_test():
    result = compare([Pair(1, 2)], seed=1)
    assert (result.ratio, result.interval, result.p) == (None, None, None)
    assert result.total_ratio == 0.5


@pytest.mark.parametrize("catch", [-1, float("nan"), float("inf")])
def test_impossible_catches_are_refused(catch):
    with pytest.raises(ValueError, match="from 0 up"):
        compare([Pair(1, catch)], seed=1)


def test_no_pairs_are_refused():
    with pytest.raises(ValueError, match="no paired tows"):
        compare([], seed=1)


def test_enough_pairs_to_quote():
    assert not compare([Pair(1, 2)] * (ENOUGH_PAIRS - 1), seed=1).enough
    assert compare([Pair(1, 2)] * ENOUGH_PAIRS, seed=1).enough
