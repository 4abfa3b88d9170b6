"""Paired tows: the ratio of all catches, against numpy by plain ways and statsmodels."""

from math import exp, log

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy import stats
from statsmodels.regression.linear_model import WLS
from statsmodels.stats.multitest import multipletests

from rigs.statistics.paired import (
    ENOUGH_PAIRS,
    ENOUGH_VESSELS,
    Pair,
    compare,
)
from rigs.statistics.several import holm
from rigs.statistics.sums import LogRatio, Unknown, log_ratio
from tests.benchmarks import paired as benchmark

NEAR = {"rel": 1e-7, "abs": 1e-12}

catches = st.floats(0.5, 500)
some = st.just(0.0) | catches
vessels = st.lists(st.tuples(some, catches), min_size=2, max_size=30)


def ten_pairs(without, with_sweep=(10.0,) * 10):
    return [
        Pair(*each, vessel) for vessel, each in enumerate(zip(without, with_sweep, strict=True))
    ]


def test_pairs_in_which_a_tow_took_nothing_count():
    # Ten pairs of 10 kg with the sweep; eight zeros and two of 8 kg without: 16 of 100.
    found = compare(ten_pairs([0] * 8 + [8, 8]))
    assert found.ratio == 0.16
    assert (found.pairs, found.vessels, found.none_without, found.none_with) == (10, 10, 8, 0)
    # By hand: distances to the line are 6.4 twice and -1.6 eight times, each squared over 0.9.
    error = ((2 * 6.4**2 + 8 * 1.6**2) / 0.9) ** 0.5 / 16
    reach = 2.262157 * error  # Student's t of 9 degrees, from printed tables
    assert found.interval == pytest.approx((0.16 / exp(reach), 0.16 * exp(reach)), rel=1e-5)
    assert found.interval == pytest.approx((0.0354, 0.7230), abs=5e-4)
    assert found.p == pytest.approx(2 * stats.t.sf(-log(0.16) / error, 9))


@given(vessels)
def test_the_error_is_that_of_a_weighted_line_by_statsmodels(sums):
    sums = np.array(sums)
    found = log_ratio(sums)
    assume(isinstance(found, LogRatio))
    without, with_sweep = sums.T
    # HC2 of a line through nought, weighed by one over the catch: Royall and Cumberland's.
    line = WLS(without, with_sweep, weights=1 / with_sweep).fit(cov_type="HC2")
    assert exp(found.value) == pytest.approx(line.params[0], **NEAR)
    assert found.error == pytest.approx(line.bse[0] / line.params[0], rel=1e-5)


def freedom_of(pulls):
    """Return the degrees of freedom by matrices, as Bell and McCaffrey write them."""
    count = len(pulls)
    apart = np.eye(count) - np.outer(pulls, np.ones(count))
    variance = apart @ np.diag(pulls) @ apart.T
    lift = np.diag((1 - pulls) ** -0.5)
    roots = np.linalg.eigvalsh(lift @ variance @ lift)
    return roots.sum() ** 2 / (roots**2).sum()


@given(st.lists(catches, min_size=2, max_size=30))
def test_the_freedom_is_that_of_matrices(with_sweep):
    sums = np.array([(each * (i % 2 + 1), each) for i, each in enumerate(with_sweep)])
    found = log_ratio(sums)
    assert found.freedom == pytest.approx(freedom_of(sums[:, 1] / sums[:, 1].sum()), rel=1e-6)
    assert 1 - 1e-6 <= found.freedom <= len(sums) - 1 + 1e-6


@given(st.lists(st.floats(0, 20), min_size=3, max_size=25))
def test_vessels_of_one_size_give_the_jackknife_and_students_t(without):
    # Of one size, the ratio is a mean: its jackknife is the plain standard error, with t of
    # one less than there are (Tukey's, by leaving each vessel out in turn).
    assume(np.ptp(without) > 1e-3)
    sums = np.column_stack([without, np.full(len(without), 10.0)])
    found = log_ratio(sums)
    left_out = [np.delete(sums, i, axis=0).sum(axis=0) for i in range(len(sums))]
    ratios = np.array([a / b for a, b in left_out])
    spread = ((ratios - ratios.mean()) ** 2).sum() * (len(sums) - 1) / len(sums)
    assert found.error * exp(found.value) == pytest.approx(spread**0.5, rel=1e-6)
    assert found.freedom == pytest.approx(len(sums) - 1)


@given(vessels)
def test_p_agrees_with_the_interval(sums):
    found = log_ratio(np.array(sums))
    assume(isinstance(found, LogRatio) and abs(found.p - 0.05) > 1e-6)
    low, high = found.interval()
    assert low <= exp(found.value) <= high
    assert (found.p < 0.05) == (not low <= 1 <= high)


def test_several_pairs_of_a_vessel_are_one_source_of_chance():
    by_vessel = [Pair(*each, name) for name, each in enumerate([(4, 9), (2, 11), (6, 7)])]
    once = compare(by_vessel)
    often = compare([Pair(p.without_sweep / 5, p.with_sweep / 5, p.vessel) for p in by_vessel] * 5)
    assert (often.pairs, often.vessels) == (15, 3)
    assert often.interval == pytest.approx(once.interval)
    strangers = compare([Pair(*pair[:2]) for pair in by_vessel * 5])
    assert strangers.vessels == 15
    assert np.ptp(strangers.interval) < np.ptp(once.interval) / 2


def test_pairs_without_any_catch_say_nothing():
    pairs = ten_pairs(range(1, 11))
    empty = [Pair(0, 0, vessel) for vessel in range(100, 130)]
    assert compare(pairs + empty) == compare(pairs)


@pytest.mark.parametrize(
    ("pairs", "why", "ratio", "p"),
    [
        ([Pair(0, 0)] * 3, Unknown.NOTHING, None, None),
        # All eight vessels of one sign: two sides of 1 in 256.
        ([Pair(2, 0)] * 8, Unknown.NONE_BELOW, None, 2 / 256),
        ([Pair(0, 2)] * 8, Unknown.NONE_ABOVE, 0, 2 / 256),
        ([Pair(0, 2)], Unknown.NONE_ABOVE, 0, 1),
        ([Pair(1, 2, "Dovekie"), Pair(2, 3, "Dovekie")], Unknown.ONE_SOURCE, 0.6, None),
        ([Pair(1, 2), Pair(3, 0), Pair(1, 0)], Unknown.ONE_SOURCE, 2.5, None),
        ([Pair(1, 2), Pair(0.1 + 0.2, 0.6)], Unknown.ALIKE, 0.5, None),
    ],
)
def test_where_nothing_can_be_told_no_interval_is_made(pairs, why, ratio, p):
    found = compare(pairs)
    assert (found.unknown, found.interval) == (why, None)
    assert found.ratio == pytest.approx(ratio)
    assert found.p == pytest.approx(p)


def test_an_interval_beyond_all_numbers_has_no_end():
    found = compare([Pair(1, 1e5), Pair(1, 1)])
    assert found.interval == (0, float("inf"))


@pytest.mark.parametrize("catch", [-1, float("nan"), float("inf")])
def test_impossible_catches_are_refused(catch):
    with pytest.raises(ValueError, match="from 0 up"):
        compare([Pair(1, catch)])


def test_no_pairs_are_refused():
    with pytest.raises(ValueError, match="no paired tows"):
        compare([])


def test_enough_is_pairs_and_vessels_that_caught_some():
    def enough(pairs, boats, caught=1):
        return compare([Pair(caught, 2 * caught, i % boats) for i in range(pairs)]).enough

    assert enough(ENOUGH_PAIRS, ENOUGH_VESSELS)
    assert not enough(ENOUGH_PAIRS - 1, ENOUGH_VESSELS)
    assert not enough(60, ENOUGH_VESSELS - 1)
    assert not enough(60, 20, caught=0)


@given(st.lists(st.none() | st.floats(0, 1), min_size=1, max_size=12))
def test_holm_is_that_of_statsmodels(chances):
    told = [p for p in chances if p is not None]
    found = holm(chances)
    assert [p is None for p in found] == [p is None for p in chances]
    if told:
        theirs = multipletests(told, method="holm")[1]
        assert [p for p in found if p is not None] == pytest.approx(list(theirs))


def test_holm_by_hand():
    assert holm([0.01, None, 0.04, 0.03]) == pytest.approx([0.03, None, 0.06, 0.06])


class TestSimulation:
    """A small seeded part of ``python -m tests.benchmarks.paired``."""

    def test_intervals_hold_the_truth_with_six_vessels_and_with_twenty(self):
        rng = np.random.default_rng(648)
        for count in (6, 20):
            found = benchmark.NOTHING_HELD
            for grounds in benchmark.GROUNDS:
                for ratio in (0.1, 0.6, 1.2):
                    found += benchmark.held(rng, grounds, count, ratio, 100)
            assert 0.93 <= found.share <= 0.97

    def test_the_usual_way_would_not_have(self):
        rng = np.random.default_rng(648)
        patchy = benchmark.GROUNDS[5]
        usual = benchmark.held(rng, patchy, 6, 0.3, 1000, benchmark.linearized)
        assert usual.share < 0.90

    @settings(max_examples=4, deadline=None)
    @given(st.sampled_from(benchmark.GROUNDS))
    def test_the_truth_is_the_ratio_of_many_vessels(self, grounds):
        # Counted over a fleet so large that it is what all fleets are drawn from.
        made = benchmark.fleets(np.random.default_rng(5), grounds, 200_000, 0.6, 1)
        without, with_sweep = made.sums[0].sum(axis=0)
        assert without / with_sweep == pytest.approx(grounds.truth(0.6), rel=0.03)
