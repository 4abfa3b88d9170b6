"""The statistics of an exam, held against published examples and reference libraries."""

import numpy as np
import pandas as pd
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy import integrate, stats
from statsmodels.formula.api import ols
from statsmodels.stats.anova import anova_lm

from rigs.statistics.items import (
    MeasureError,
    alpha,
    bootstrap_interval,
    difficulty,
    discrimination,
    feldt_interval,
    gathered,
    kr20,
    pool,
    standard_error_of_measurement,
)
from tests.certification.livingston_lewis import (
    decision_consistency,
    effective_length,
    failing_probabilities,
)

NEAR = {"rel": 1e-9, "abs": 1e-9}

# Section 6 of the Law School Admission Test, 1000 candidates on five items: how many
# gave each pattern of right and wrong answers, in binary order (Bock and Lieberman
# 1970; from memory).
PATTERN_COUNTS = (
    *(3, 6, 2, 11, 1, 1, 3, 4, 1, 8, 0, 16, 0, 3, 2, 15),
    *(10, 29, 14, 81, 3, 28, 15, 80, 16, 56, 21, 173, 11, 61, 28, 298),
)

# Shrout and Fleiss (1979), six targets rated by four judges (from memory). The
# reliability of the judges' mean, ICC(3, 4), is alpha with judges as items.
RATINGS = np.array(
    [[9, 2, 5, 8], [6, 1, 3, 2], [8, 4, 6, 8], [7, 1, 2, 6], [10, 5, 6, 9], [6, 2, 4, 7]], float
)


def admission_test():
    patterns = [[int(digit) for digit in f"{number:05b}"] for number in range(32)]
    return np.repeat(np.array(patterns, dtype=float), PATTERN_COUNTS, axis=0)


def marks_of(seed, candidates, items, levels=2, missing=0.0):
    """Return made-up marks 0 to ``levels`` - 1 that hang together through one ability."""
    rng = np.random.default_rng(seed)
    ability = rng.normal(size=(candidates, 1))
    hardness = rng.normal(size=items)
    right = 1 / (1 + np.exp(hardness - ability))
    marks = rng.binomial(levels - 1, right).astype(float)
    marks[rng.random(marks.shape) < missing] = np.nan
    return marks


seeds = st.integers(0, 10**6)
candidate_counts = st.integers(5, 60)
item_counts = st.integers(2, 12)


def test_difficulty_and_discrimination_of_the_admission_test():
    marks = admission_test()
    assert marks.shape == (1000, 5)
    hard = difficulty(marks, np.ones(5))
    assert hard == pytest.approx([0.924, 0.709, 0.553, 0.763, 0.870], **NEAR)
    # The item-total correlations, item left out, that statistical software prints for
    # these data (from memory).
    sorts = discrimination(marks, np.ones(5))
    assert sorts == pytest.approx([0.113, 0.153, 0.173, 0.144, 0.122], abs=5e-4)


def test_kr20_and_alpha_of_the_admission_test():
    # 0.295 in the published analyses (from memory).
    marks = admission_test()
    assert kr20(marks) == pytest.approx(0.295, abs=5e-4)
    assert alpha(marks) == pytest.approx(kr20(marks), **NEAR)


def test_alpha_and_feldt_interval_of_shrout_and_fleiss():
    # ICC(3, 4) 0.91; interval 0.676 to 0.99 as software prints it (from memory).
    estimate = alpha(RATINGS)
    assert estimate == pytest.approx(0.91, abs=5e-3)
    low, high = feldt_interval(estimate, 6, 4)
    assert low == pytest.approx(0.676, abs=5e-4)
    assert high == pytest.approx(0.99, abs=5e-3)


@settings(max_examples=25)
@given(seeds, candidate_counts, item_counts, st.integers(2, 6))
def test_alpha_and_interval_equal_the_analysis_of_variance(seed, candidates, items, levels):
    # Hoyt (1941): alpha is 1 - (error mean square / candidates' mean square), which is
    # where Feldt's F comes from. Here statsmodels fits the two-way layout.
    marks = marks_of(seed, candidates, items, levels)
    assume(np.ptp(marks.sum(axis=1)) > 0)
    rows, columns = np.indices(marks.shape)
    layout = pd.DataFrame({"mark": marks.ravel(), "who": rows.ravel(), "item": columns.ravel()})
    table = anova_lm(ols("mark ~ C(who) + C(item)", layout).fit())
    between, error = table.loc["C(who)"], table.loc["Residual"]
    ratio = error["mean_sq"] / between["mean_sq"]
    estimate = alpha(marks)
    assert estimate == pytest.approx(1 - ratio, **NEAR)
    f = stats.f(between["df"], error["df"])
    expected = (1 - ratio * f.ppf(0.95), 1 - ratio * f.ppf(0.05))
    assert feldt_interval(estimate, candidates, items, 0.9) == pytest.approx(expected, **NEAR)


@given(seeds, candidate_counts, item_counts)
def test_discrimination_equals_scipys_point_biserial(seed, candidates, items):
    marks = marks_of(seed, candidates, items)
    found = discrimination(marks, np.ones(items))
    for item in range(items):
        rest = np.delete(marks, item, axis=1).sum(axis=1)
        if np.ptp(rest) == 0 or np.ptp(marks[:, item]) == 0:
            assert np.isnan(found[item])
        else:
            expected = stats.pointbiserialr(marks[:, item], rest).statistic
            assert found[item] == pytest.approx(expected, **NEAR)


@given(seeds, candidate_counts, item_counts)
def test_kr20_is_alpha_for_right_and_wrong_answers(seed, candidates, items):
    marks = marks_of(seed, candidates, items)
    if np.ptp(marks.sum(axis=1)) == 0:
        with pytest.raises(MeasureError, match="same total"):
            kr20(marks)
        with pytest.raises(MeasureError, match="same total"):
            alpha(marks)
    else:
        assert kr20(marks) == pytest.approx(alpha(marks), **NEAR)


@given(seeds, st.integers(30, 80), st.integers(2, 6), st.floats(0.05, 0.3))
def test_alpha_with_missing_cells_equals_pandas_pairwise_covariance(
    seed, candidates, items, missing
):
    marks = marks_of(seed, candidates, items, levels=4, missing=missing)
    covariance = pd.DataFrame(marks).cov().to_numpy()
    assume(covariance.sum() > 1e-6)
    expected = items / (items - 1) * (1 - np.trace(covariance) / covariance.sum())
    assert alpha(marks) == pytest.approx(expected, **NEAR)


def test_missing_cells_are_no_wrong_answers():
    nan = np.nan
    marks = np.array([[1, nan, 1], [0, 1, 1], [1, 1, nan], [1, 0, 0]])
    assert difficulty(marks, np.ones(3)) == pytest.approx([3 / 4, 2 / 3, 2 / 3])
    # Item 1 against the share of the other items that each candidate had.
    expected = np.corrcoef([1, 0, 1, 1], [1, 1, 1, 0])[0, 1]
    assert discrimination(marks, np.ones(3))[0] == pytest.approx(expected)
    with pytest.raises(MeasureError, match="every question"):
        kr20(marks)


def test_templates_never_on_the_same_exams_have_no_alpha():
    nan = np.nan
    with pytest.raises(MeasureError, match="never on the same two exams"):
        alpha(np.array([[1, nan, 1], [0, nan, 1], [nan, 1, 1], [nan, 0, 0]]))


def test_items_of_unequal_worth_count_by_their_marks():
    exams = [{"a": 3, "b": 1}, {"a": 0, "b": 1}, {"b": 0}]
    made = pool(exams, {"a": 4, "b": 1})
    assert made.missing == 1
    assert not made.right_or_wrong
    assert made.shares == pytest.approx([4 / 5, 1 / 5, 0])
    assert difficulty(made.marks, made.out_of) == pytest.approx([3 / 8, 2 / 3])


@pytest.mark.parametrize(
    ("exams", "reason"),
    [
        ([], "Nobody has taken"),
        ([{}], "has no questions"),
        ([{"c": 1}], "'c' is not a question"),
        ([{"a": 2}], "'a' cannot earn"),
        ([{"a": -1}], "'a' cannot earn"),
        ([{"a": float("nan")}], "'a' cannot earn"),
    ],
)
def test_pool_refuses(exams, reason):
    with pytest.raises(MeasureError, match=reason):
        pool(exams, {"a": 1, "b": 1})


def test_an_item_nobody_had_has_no_figures():
    marks = np.array([[1, np.nan], [0, np.nan]])
    assert np.isnan(difficulty(marks, np.ones(2))[1])
    assert np.isnan(discrimination(marks, np.ones(2))).all()


def test_bootstrap_interval_equals_scipys():
    marks = marks_of(4, 60, 8)
    reference = stats.bootstrap(
        (np.arange(60),),
        lambda rows: alpha(marks[rows]),
        vectorized=False,
        n_resamples=600,
        batch=200,
        method="percentile",
        confidence_level=0.9,
        rng=np.random.default_rng(11),
    ).confidence_interval
    ours = bootstrap_interval(marks, seed=11, resamples=600, confidence=0.9)
    assert ours == pytest.approx(tuple(reference), **NEAR)


def test_bootstrap_interval_is_fixed_by_its_seed():
    marks = marks_of(5, 40, 6)
    assert bootstrap_interval(marks, 1, 300) == bootstrap_interval(marks, 1, 300)
    assert bootstrap_interval(marks, 1, 300) != bootstrap_interval(marks, 2, 300)


def test_bootstrap_and_feldt_intervals_are_of_one_size_for_normal_marks():
    rng = np.random.default_rng(3)
    marks = rng.normal(size=(400, 1)) + rng.normal(size=(400, 10))
    feldt = feldt_interval(alpha(marks), 400, 10)
    assert bootstrap_interval(marks, 8) == pytest.approx(feldt, abs=0.01)


def test_feldt_interval_covers_the_true_alpha_as_often_as_it_says():
    # Ten parallel items whose true scores and errors have equal variance: alpha is 10/11.
    rng = np.random.default_rng(20)
    held, rounds = 0, 2000
    for _ in range(rounds):
        marks = rng.normal(size=(25, 1)) + rng.normal(size=(25, 10))
        low, high = feldt_interval(alpha(marks), 25, 10)
        held += low <= 10 / 11 <= high
    assert held / rounds == pytest.approx(0.95, abs=0.015)


@pytest.mark.parametrize(
    ("marks", "reason"),
    [
        ([[1.0], [0.0]], "two questions"),
        ([[1.0, 0.0]], "never on the same two exams"),
        ([[1.0, 0.0], [0.0, 1.0]], "same total"),
    ],
)
def test_alpha_refuses_what_defines_no_reliability(marks, reason):
    with pytest.raises(MeasureError, match=reason):
        alpha(np.array(marks))


def test_kr20_refuses_partial_marks_and_too_few():
    with pytest.raises(MeasureError, match="right and wrong"):
        kr20(np.array([[0.5, 1], [0, 1]]))
    with pytest.raises(MeasureError, match="at least two"):
        kr20(np.array([[1.0, 0.0]]))


def test_standard_error_of_measurement():
    # SD 15 and reliability 0.84 make 15 x 0.4 = 6.
    totals = np.array([85.0, 100.0, 115.0])
    assert np.std(totals, ddof=1) == 15
    assert standard_error_of_measurement(totals, 0.84) == pytest.approx(6)
    with pytest.raises(MeasureError, match="two people"):
        standard_error_of_measurement([1.0], 0.5)
    with pytest.raises(MeasureError, match="above 1"):
        standard_error_of_measurement([1.0, 2.0], 1.1)


@settings(max_examples=12)
@given(st.integers(1, 60), st.floats(0.3, 40), st.floats(0.3, 40), st.data())
def test_failing_probabilities_equal_scipys_beta_binomial_and_quadrature(length, a, b, data):
    needed = data.draw(st.integers(0, length))
    once, twice = failing_probabilities(length, a, b, needed)
    assert once == pytest.approx(stats.betabinom.cdf(needed - 1, length, a, b), **NEAR)

    # The share on the scale of its own distribution: a smooth integrand on 0 to 1 even
    # where the density is unbounded.
    def both(level):
        return stats.binom.cdf(needed - 1, length, stats.beta.ppf(level, a, b)) ** 2

    expected, _ = integrate.quad(both, 0, 1, epsabs=1e-11, epsrel=1e-11, limit=400)
    assert twice == pytest.approx(expected, rel=1e-8, abs=1e-8)


@given(seeds, st.integers(20, 60), st.integers(4, 12))
def test_effective_length_with_kr21_is_the_number_of_items(seed, candidates, items):
    # The identity that makes the index Huynh's for right-or-wrong items.
    totals = marks_of(seed, candidates, items).sum(axis=1)
    mean, variance = totals.mean(), totals.var()
    assume(variance > 0)
    kr21 = items / (items - 1) * (1 - mean * (items - mean) / (items * variance))
    assume(0.05 < kr21 < 0.99)
    assert effective_length(mean / items, variance / items**2, kr21) == items


def test_consistency_is_what_two_sittings_show():
    # 40 items, true shares beta(12, 4): the chance of the same verdict twice, counted.
    rng = np.random.default_rng(9)
    true = rng.beta(12, 4, size=200_000)
    first, second = rng.binomial(40, true) / 40, rng.binomial(40, true) / 40
    kr21 = 40 / (40 + 12 + 4)
    result = decision_consistency(first, kr21, 0.75)
    same = (first >= 0.75) == (second >= 0.75)
    assert result.length == pytest.approx(40, abs=1)
    assert result.consistent == pytest.approx(same.mean(), abs=0.01)
    rate = (first >= 0.75).mean()
    assert result.by_chance == pytest.approx(rate**2 + (1 - rate) ** 2, abs=0.01)
    expected = (result.consistent - result.by_chance) / (1 - result.by_chance)
    assert result.kappa == pytest.approx(expected)


def test_consistency_takes_a_cut_at_a_whole_mark_as_that_mark():
    # 0.7 x 10 is 7.000000000000001 in binary: a candidate with 7 of 10 passes.
    totals = np.repeat(np.arange(11), [1, 2, 3, 5, 8, 10, 12, 12, 9, 6, 3])
    mean, variance = totals.mean(), totals.var()
    kr21 = 10 / 9 * (1 - mean * (10 - mean) / (10 * variance))
    result = decision_consistency(totals / 10, kr21, 0.7)
    assert result.length == 10
    a_and_b = 10 * (1 - kr21) / kr21
    a = mean / 10 * a_and_b
    rate = stats.betabinom.sf(6, 10, a, a_and_b - a)
    assert result.by_chance == pytest.approx(rate**2 + (1 - rate) ** 2, **NEAR)


def test_consistency_when_everybody_passes():
    result = decision_consistency(np.array([0.5, 0.7, 0.9]), 0.8, 0)
    assert result.consistent == 1
    assert result.kappa is None


@pytest.mark.parametrize(
    ("shares", "reliability", "cut", "reason"),
    [
        ([0.5, 0.6], 0.8, 1.2, "score to pass"),
        ([0.5, 0.6], 1.0, 0.5, "between 0 and 1"),
        ([0.5, 0.6], -0.2, 0.5, "between 0 and 1"),
        ([0.5, 0.5], 0.8, 0.5, "same total"),
    ],
)
def test_consistency_refuses(shares, reliability, cut, reason):
    with pytest.raises(MeasureError, match=reason):
        decision_consistency(np.array(shares), reliability, cut)


def test_gathered_by_hand():
    # Two questions on spacing, one on stock; the second person's exam lacked one on spacing.
    made = pool(
        [{"s1": 1, "s2": 0, "k": 1}, {"s1": 1, "k": 0}, {"s1": 0, "s2": 0}],
        {"s1": 1, "s2": 1, "k": 1},
    )
    found = gathered(made, lambda item: item[0])
    assert found.items == ("s", "k")
    assert found.out_of.tolist() == [2, 1]
    assert found.marks[:, 0].tolist() == [1, 2, 0]
    assert found.marks[:2, 1].tolist() == [1, 0]
    assert np.isnan(found.marks[2, 1])
