"""Agreement of judges, held against published examples and against scipy and statsmodels."""

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy import stats
from statsmodels.stats import inter_rater
from statsmodels.stats.proportion import proportion_confint

from rigs.statistics.agreement import (
    calling,
    category_counts,
    clopper_pearson,
    cohen_kappa,
    cross_table,
    fleiss_kappa,
    pooled_kappa,
    share,
    wilson_interval,
)

NEAR = {"rel": 1e-9, "abs": 1e-9}

# Fleiss (1971), "Measuring nominal scale agreement among many raters", table 1: thirty
# patients, six of the psychiatrists each, five diagnoses (from memory; statsmodels'
# own tests hold the same counts).
DIAGNOSES = [
    [0, 0, 0, 6, 0],
    [0, 3, 0, 0, 3],
    [0, 1, 4, 0, 1],
    [0, 0, 0, 0, 6],
    [0, 3, 0, 3, 0],
    [2, 0, 4, 0, 0],
    [0, 0, 4, 0, 2],
    [2, 0, 3, 1, 0],
    [2, 0, 0, 4, 0],
    [0, 0, 0, 0, 6],
    [1, 0, 0, 5, 0],
    [1, 1, 0, 4, 0],
    [0, 3, 3, 0, 0],
    [1, 0, 0, 5, 0],
    [0, 2, 0, 3, 1],
    [0, 0, 5, 0, 1],
    [3, 0, 0, 1, 2],
    [5, 1, 0, 0, 0],
    [0, 2, 0, 4, 0],
    [1, 0, 2, 0, 3],
    [0, 0, 0, 0, 6],
    [0, 1, 0, 5, 0],
    [0, 2, 0, 1, 3],
    [2, 0, 0, 4, 0],
    [1, 0, 0, 4, 1],
    [0, 5, 0, 1, 0],
    [4, 0, 0, 0, 2],
    [0, 2, 0, 4, 0],
    [1, 0, 5, 0, 0],
    [0, 0, 0, 0, 6],
]

counts_out_of = st.integers(1, 400).flatmap(lambda of: st.tuples(st.integers(0, of), st.just(of)))
square_tables = st.integers(2, 5).flatmap(
    lambda size: st.lists(
        st.lists(st.integers(0, 40), min_size=size, max_size=size), min_size=size, max_size=size
    )
)


@given(counts_out_of, st.sampled_from([0.8, 0.9, 0.95, 0.99]))
def test_wilson_interval_equals_scipy_and_statsmodels(trial, confidence):
    count, of = trial
    ours = wilson_interval(count, of, confidence)
    theirs = stats.binomtest(count, of).proportion_ci(confidence, method="wilson")
    assert ours == pytest.approx((theirs.low, theirs.high), **NEAR)
    other = proportion_confint(count, of, alpha=1 - confidence, method="wilson")
    assert ours == pytest.approx(other, **NEAR)


@given(counts_out_of, st.sampled_from([0.8, 0.9, 0.95, 0.99]))
def test_clopper_pearson_equals_scipy_and_statsmodels(trial, confidence):
    count, of = trial
    ours = clopper_pearson(count, of, confidence)
    theirs = stats.binomtest(count, of).proportion_ci(confidence, method="exact")
    assert ours == pytest.approx((theirs.low, theirs.high), **NEAR)
    other = proportion_confint(count, of, alpha=1 - confidence, method="beta")
    assert ours == pytest.approx(other, **NEAR)


@given(counts_out_of)
def test_intervals_hold_the_share_and_stay_within_nought_and_one(trial):
    result = share(*trial)
    for interval in (result.wilson, result.exact):
        assert 0 <= interval.low <= result.share <= interval.high <= 1


def test_share_of_no_trials_is_unknown():
    nothing = share(0, 0)
    assert (nothing.share, nothing.wilson, nothing.exact) == (None, None, None)


@pytest.mark.parametrize(("count", "of"), [(-1, 3), (4, 3)])
def test_share_refuses_impossible_counts(count, of):
    with pytest.raises(ValueError, match="is not a share"):
        share(count, of)


@pytest.mark.parametrize("confidence", [0, 1, -0.5, 1.5])
def test_confidence_out_of_range_is_refused(confidence):
    with pytest.raises(ValueError, match="between 0 and 1"):
        share(1, 2, confidence)


def test_cohen_kappa_of_the_worked_table():
    # The common two-by-two worked example (from memory): 0.70 seen, 0.50 by chance.
    result = cohen_kappa([[20, 5], [10, 15]])
    assert result.observed == pytest.approx(0.70)
    assert result.expected == pytest.approx(0.50)
    assert result.kappa == pytest.approx(0.40)
    assert result.subjects == 50


def test_cohen_kappa_of_fleiss_cohen_and_everitt():
    # Fleiss, Cohen and Everitt (1969), also in Fleiss, Statistical Methods for Rates and
    # Proportions: 200 subjects, kappa 0.429, standard error 0.054 (from memory).
    result = cohen_kappa([[106, 10, 4], [22, 28, 10], [2, 12, 6]])
    assert result.kappa == pytest.approx(0.429, abs=5e-4)
    assert result.standard_error == pytest.approx(0.054, abs=5e-4)


@given(square_tables)
def test_cohen_kappa_equals_statsmodels(table):
    counts = np.array(table)
    n = counts.sum()
    assume(n > 0)
    assume((counts.sum(axis=0) * counts.sum(axis=1)).sum() < n * n)
    ours = cohen_kappa(counts)
    theirs = inter_rater.cohens_kappa(counts)
    assert ours.kappa == pytest.approx(theirs.kappa, **NEAR)
    # The variance is what is compared: near nought a root would magnify rounding.
    assert ours.standard_error**2 == pytest.approx(max(theirs.var_kappa, 0), **NEAR)
    if ours.standard_error > 1e-3:
        assert ours.standard_error == pytest.approx(theirs.std_kappa, **NEAR)
        assert ours.interval == pytest.approx((theirs.kappa_low, theirs.kappa_upp), **NEAR)


def test_cohen_kappa_of_full_agreement_is_one():
    result = cohen_kappa([[7, 0], [0, 5]])
    assert result.kappa == 1
    assert result.interval == pytest.approx((1, 1))


def test_cohen_kappa_is_unknown_when_all_said_the_same():
    result = cohen_kappa([[9, 0], [0, 0]])
    assert (result.observed, result.expected) == (1, 1)
    assert (result.kappa, result.standard_error, result.interval) == (None, None, None)


@pytest.mark.parametrize(
    "table", [[[1, 2, 3], [4, 5, 6]], [1, 2], [[0, 0], [0, 0]], [[-1, 3], [2, 2]]]
)
def test_cohen_kappa_refuses_what_is_no_table(table):
    with pytest.raises(ValueError, match="table"):
        cohen_kappa(table)


def test_cross_table_counts_row_by_column():
    first = ["legal", "legal", "not legal", "not legal", "not legal"]
    second = ["legal", "not legal", "not legal", "not legal", "legal"]
    table = cross_table(first, second, ["legal", "not legal"])
    assert table.tolist() == [[1, 1], [1, 2]]


def test_cross_table_refuses_unequal_rounds_and_strange_categories():
    with pytest.raises(ValueError, match="1 rigs and the other 2"):
        cross_table([True], [True, False], [True, False])
    with pytest.raises(ValueError, match="'maybe'"):
        cross_table(["maybe"], [True], [True, False])


def random_tables(seed, rigs, judges, categories=2):
    """Return one table a rig of what ``judges`` said by the one thing that is so."""
    rng = np.random.default_rng(seed)
    tables = np.zeros((rigs, categories, categories), dtype=int)
    for table in tables:
        so = rng.integers(categories)
        table[:, so] = rng.multinomial(judges, rng.dirichlet(np.ones(categories)))
    return tables


def informative(tables):
    whole = tables.sum(axis=0)
    n = whole.sum()
    return (whole.sum(axis=0) * whole.sum(axis=1)).sum() < n * n


@given(st.integers(0, 10**6), st.integers(2, 40), st.integers(2, 4))
def test_pooled_kappa_of_one_judge_is_cohens(seed, rigs, categories):
    tables = random_tables(seed, rigs, 1, categories)
    assume(informative(tables))
    pooled, single = pooled_kappa(tables), cohen_kappa(tables.sum(axis=0))
    assert pooled.kappa == pytest.approx(single.kappa, **NEAR)
    expected = single.standard_error**2 * rigs / (rigs - 1)
    assert pooled.standard_error**2 == pytest.approx(expected, **NEAR)
    assert pooled.subjects == rigs


@given(st.integers(0, 10**6), st.integers(3, 40), st.integers(1, 9), st.integers(2, 4))
def test_pooled_standard_error_is_the_delta_method_over_rigs(seed, rigs, judges, categories):
    # As for Fleiss' kappa: derivatives by a complex step, without the formula's algebra.
    tables = random_tables(seed, rigs, judges, categories)
    assume(informative(tables))

    def kappa(weights):
        p = np.tensordot(weights, tables, axes=1)
        p = p / p.sum()
        expected = p.sum(axis=1) @ p.sum(axis=0)
        return (np.trace(p) - expected) / (1 - expected)

    influence = np.empty(rigs)
    for rig in range(rigs):
        weights = np.ones(rigs, dtype=complex)
        weights[rig] += 1e-30j
        influence[rig] = kappa(weights).imag / 1e-30
    expected = (influence**2).sum() * rigs / (rigs - 1)
    assert pooled_kappa(tables).standard_error ** 2 == pytest.approx(expected, **NEAR)


def test_the_same_call_by_every_judge_tells_no_more_than_one_of_them():
    # Nine who say the same of each rig are one judge nine times over.
    tables = random_tables(4, 30, 1)
    assert pooled_kappa(9 * tables).interval == pytest.approx(pooled_kappa(tables).interval)
    assert cohen_kappa(9 * tables.sum(axis=0)).standard_error == pytest.approx(
        cohen_kappa(tables.sum(axis=0)).standard_error / 3
    )


def test_pooled_kappa_of_edge_cases():
    alone = pooled_kappa([[[3, 1], [1, 2]]])
    assert alone.kappa is not None
    assert (alone.standard_error, alone.interval) == (None, None)
    same = pooled_kappa([[[3, 0], [0, 0]], [[2, 0], [0, 0]]])
    assert (same.kappa, same.subjects) == (None, 2)
    # A rig that nobody called does not count as one.
    with_gap = pooled_kappa([[[3, 1], [1, 2]], [[0, 0], [0, 0]], [[2, 0], [1, 4]]])
    assert with_gap == pooled_kappa([[[3, 1], [1, 2]], [[2, 0], [1, 4]]])
    for tables in ([[1, 2], [3, 4]], [[[1, 2, 3], [4, 5, 6]]], [[[0, 0], [0, 0]]]):
        with pytest.raises(ValueError, match="table"):
            pooled_kappa(tables)


def test_fleiss_kappa_of_the_psychiatric_diagnoses():
    # Fleiss (1971) gives observed 0.556, expected 0.220, kappa 0.430 (from memory).
    assert np.sum(DIAGNOSES, axis=0).tolist() == [26, 26, 30, 55, 43]
    result = fleiss_kappa(DIAGNOSES)
    assert result.observed == pytest.approx(0.556, abs=5e-4)
    assert result.expected == pytest.approx(0.220, abs=5e-4)
    assert result.kappa == pytest.approx(0.430, abs=5e-4)


def random_counts(seed, subjects, judges, categories):
    rng = np.random.default_rng(seed)
    leanings = rng.dirichlet(np.ones(categories), size=subjects)
    return np.array([rng.multinomial(judges, leaning) for leaning in leanings])


@given(st.integers(0, 10**6), st.integers(2, 40), st.integers(2, 9), st.integers(2, 5))
def test_fleiss_kappa_equals_statsmodels(seed, subjects, judges, categories):
    counts = random_counts(seed, subjects, judges, categories)
    assume((counts.sum(axis=0) > 0).sum() >= 2)
    ours = fleiss_kappa(counts).kappa
    assert ours == pytest.approx(inter_rater.fleiss_kappa(counts), **NEAR)


def fleiss_by_weights(counts, weights):
    """Return Fleiss' kappa with each rig counted ``weights`` times; the weights may be complex."""
    judges = counts[0].sum()
    weights = weights / weights.sum()
    shares = weights @ counts / judges
    agreeing = ((counts**2).sum(axis=1) - judges) / (judges * (judges - 1))
    expected = shares @ shares
    return (weights @ agreeing - expected) / (1 - expected)


@given(st.integers(0, 10**6), st.integers(5, 40), st.integers(2, 9), st.integers(2, 5))
def test_fleiss_standard_error_is_the_delta_method_over_rigs(seed, subjects, judges, categories):
    # The infinitesimal jackknife, its derivatives taken by a complex step, is the same
    # linearisation reached without any of the formula's algebra.
    counts = random_counts(seed, subjects, judges, categories)
    assume((counts.sum(axis=0) > 0).sum() >= 2)
    influence = np.empty(subjects)
    for rig in range(subjects):
        weights = np.ones(subjects, dtype=complex)
        weights[rig] += 1e-30j
        influence[rig] = fleiss_by_weights(counts, weights).imag / 1e-30
    expected = (influence**2).sum() * subjects / (subjects - 1)
    assert fleiss_kappa(counts).standard_error ** 2 == pytest.approx(expected, **NEAR)


def test_fleiss_interval_lies_evenly_about_kappa():
    result = fleiss_kappa(DIAGNOSES, confidence=0.9)
    half = stats.norm.ppf(0.95) * result.standard_error
    assert result.interval == pytest.approx((result.kappa - half, result.kappa + half), **NEAR)


def test_fleiss_kappa_of_edge_cases():
    assert fleiss_kappa([[4, 0], [0, 4]]).kappa == 1
    assert fleiss_kappa([[4, 0], [4, 0]]).kappa is None
    alone = fleiss_kappa([[3, 1]])
    assert alone.kappa is not None
    assert alone.interval is None


@pytest.mark.parametrize(
    ("counts", "reason"),
    [([], "no rig"), ([[1, 0]], "two judges"), ([[2, 1], [2, 2]], "same number")],
)
def test_fleiss_kappa_refuses(counts, reason):
    with pytest.raises(ValueError, match=reason):
        fleiss_kappa(counts)


def test_category_counts_leave_out_rigs_that_somebody_left_open():
    ratings = [("pass", "fail", "pass"), ("pass", None, "pass"), ("fail", "fail", "fail")]
    counts, left_out = category_counts(ratings, ["pass", "fail"])
    assert counts.tolist() == [[2, 1], [0, 3]]
    assert left_out == 1
    with pytest.raises(ValueError, match="'perhaps'"):
        category_counts([("perhaps", "pass")], ["pass", "fail"])


def test_calling_counts_each_kind_of_mistake_against_its_own_base():
    # Five failing parts of which one is let pass; ten sound ones of which three are failed.
    pairs = [(True, True)] * 4 + [(False, True)] + [(True, False)] * 3 + [(False, False)] * 7
    result = calling(pairs)
    assert (result.under.count, result.under.of) == (1, 5)
    assert (result.over.count, result.over.of) == (3, 10)
    assert (result.agreed.count, result.agreed.of) == (11, 15)
