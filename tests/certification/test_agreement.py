"""Agreement of judges, held against published examples and against scipy and statsmodels."""

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy import stats
from statsmodels.stats import inter_rater
from statsmodels.stats.proportion import proportion_confint

from rigs.statistics.agreement import calling, share, wilson_interval
from rigs.statistics.facets import FEWEST_JUDGES, Lack, share_reach
from rigs.statistics.interval import clopper_pearson
from rigs.statistics.kappa import (
    category_counts,
    cohen_kappa,
    cross_table,
    fleiss_kappa,
    mutual_kappa,
    pooled_kappa,
)
from tests.benchmarks import kappa as kappa_trials

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
    if ours.interval:
        assert -1 < ours.interval.low < ours.kappa < ours.interval.high < 1
        # Laid on Fisher's z (1915): half the logit between -1 and 1.
        reach = stats.t.isf(0.025, n - 1) * ours.standard_error / (1 - ours.kappa**2)
        ends = np.tanh(np.arctanh(ours.kappa) + np.array([-reach, reach]))
        assert ours.interval == pytest.approx(ends, **NEAR)


def test_cohen_kappa_of_full_agreement_is_one_and_not_sure():
    result = cohen_kappa([[7, 0], [0, 5]])
    assert result.kappa == 1
    assert (result.interval, result.reach.lack) == (None, Lack.TOP)
    never = cohen_kappa([[0, 6], [6, 0]])
    assert (never.kappa, never.interval, never.reach.lack) == (-1, None, Lack.BOTTOM)


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


def random_calls(seed, judges, rigs, categories=2, left_open=0.0):
    """Return (what each judge said of each rig, what is so of each), alike on hard rigs."""
    rng = np.random.default_rng(seed)
    so = rng.integers(categories, size=rigs)
    hard = rng.beta(1, 2, rigs)
    wrong = rng.random((judges, rigs)) < hard
    said = np.where(wrong, rng.integers(categories, size=(judges, rigs)), so)
    is_open = rng.random((judges, rigs)) < left_open
    rows = [
        [None if skipped else int(each) for each, skipped in zip(*pair, strict=True)]
        for pair in zip(said, is_open, strict=True)
    ]
    return rows, so.tolist()


def whole_table(said, so, categories):
    """Return all calls by what is so, counted one by one."""
    table = np.zeros((categories, categories))
    for row in said:
        for each, right in zip(row, so, strict=True):
            if each is not None:
                table[each, right] += 1
    return table


def informative(table):
    n = table.sum()
    return n > 0 and (table.sum(axis=0) * table.sum(axis=1)).sum() < n * n


def by_complex_step(figure, judges, rigs):
    """
    Return the variance of ``figure`` of (weights of judges, of rigs), all weights 1.

    The infinitesimal jackknife (Efron, 1982, from memory) over both, with its derivatives by
    a complex step: the same linearisation reached without any of the formulas' algebra.
    """

    def slopes(count, of):
        found = np.empty(count)
        for place in range(count):
            weights = np.ones(count, dtype=complex)
            weights[place] += 1e-30j
            found[place] = of(weights).imag / 1e-30
        return (found**2).sum() * count / (count - 1)

    between_rigs = slopes(rigs, lambda weights: figure(np.ones(judges), weights))
    if judges < FEWEST_JUDGES:
        return between_rigs, 0.0
    return between_rigs, slopes(judges, lambda weights: figure(weights, np.ones(rigs)))


@given(st.integers(0, 10**6), st.integers(2, 40), st.integers(2, 4))
def test_pooled_kappa_of_one_judge_is_cohens(seed, rigs, categories):
    said, so = random_calls(seed, 1, rigs, categories)
    assume(informative(whole_table(said, so, categories)))
    single = cohen_kappa(whole_table(said, so, categories))
    assert pooled_kappa(said, so, range(categories)) == single


@settings(max_examples=40)
@given(st.integers(0, 10**6), st.integers(2, 9), st.integers(3, 40), st.integers(2, 4))
def test_pooled_variance_is_that_between_rigs_and_that_between_judges(seed, judges, rigs, kinds):
    said, so = random_calls(seed, judges, rigs, kinds, left_open=0.1)
    assume(all(any(row[place] is not None for row in said) for place in range(rigs)))
    assume(informative(whole_table(said, so, kinds)))
    calls = np.zeros((judges, rigs, kinds, kinds))
    for judge, row in enumerate(said):
        for rig, each in enumerate(row):
            if each is not None:
                calls[judge, rig, each, so[rig]] = 1

    def of_table(p):
        expected = p.sum(axis=1) @ p.sum(axis=0)
        return (np.trace(p) - expected) / (1 - expected)

    def kappa(of_judges, of_rigs):
        p = np.einsum("j,r,jrab->ab", of_judges, of_rigs, calls)
        return of_table(p / p.sum())

    ours = pooled_kappa(said, so, range(kinds))
    assert ours.kappa == pytest.approx(kappa(np.ones(judges), np.ones(rigs)), **NEAR)
    # Calls that have nothing to do with each other vary so much at the least.
    cells = 0.0
    for judge, rig in zip(*np.nonzero(calls.any(axis=(2, 3))), strict=True):
        whole = calls.sum(axis=(0, 1)) + 1e-30j * calls[judge, rig]
        cells += (of_table(whole / whole.sum()).imag / 1e-30) ** 2
    expected = max(sum(by_complex_step(kappa, judges, rigs)), cells)
    assert ours.standard_error**2 == pytest.approx(expected, **NEAR)
    assert ours.reach.others == (judges >= FEWEST_JUDGES)
    if ours.interval:
        assert -1 < ours.interval.low < ours.kappa < ours.interval.high < 1


def test_the_same_call_by_every_judge_tells_no_more_of_rigs_than_one_of_them():
    # Nine who say the same of each rig are one judge nine times over.
    said, so = random_calls(4, 1, 30)
    of_two, of_nine = (pooled_kappa(count * said, so, range(2)) for count in (2, 9))
    assert of_nine.interval == pytest.approx(of_two.interval)
    whole = whole_table(said, so, 2)
    single = cohen_kappa(whole)
    assert of_nine.standard_error == pytest.approx(single.standard_error * (30 / 29) ** 0.5)
    assert cohen_kappa(9 * whole).standard_error == pytest.approx(single.standard_error / 3)


def test_officers_who_differ_make_the_interval_wide_however_many_the_rigs():
    # Three always right and three always wrong: no rig differs, the officers do.
    so = [place % 2 for place in range(200)]
    said = [so] * 3 + [[1 - each for each in so]] * 3
    low, high = pooled_kappa(said, so, range(2)).interval
    assert high - low > 1


def test_no_rig_that_differs_does_not_make_a_figure_sure():
    # Six officers, each wrong on other rigs, one on every rig: alike by luck.
    so = [place % 2 for place in range(24)]
    said = [
        [1 - each if place % 6 == officer else each for place, each in enumerate(so)]
        for officer in range(6)
    ]
    for found in (pooled_kappa(said, so, range(2)), mutual_kappa(said, range(2))):
        low, high = found.interval
        assert high - low > 0.1
    right = np.array([[each == is_so for each, is_so in zip(row, so, strict=True)] for row in said])
    low, high = share_reach(right.astype(float)).interval
    # 20 right of 24 by one officer alone: 64 to 93 by Wilson's.
    assert 0.05 < high - low < 0.29


def test_pooled_kappa_of_edge_cases():
    alone = pooled_kappa([[0], [1], [1]], [1], range(2))
    assert alone.kappa is not None
    assert (alone.standard_error, alone.interval, alone.reach.lack) == (None, None, Lack.ONE_RIG)
    same = pooled_kappa([[0, 0], [0, 0]], [0, 0], range(2))
    assert (same.kappa, same.interval) == (None, None)
    # All say one thing, whatever is so: nought, and nothing tells how sure.
    blind = pooled_kappa([[0, 0, 0]] * 4, [0, 1, 0], range(2))
    assert blind.kappa == pytest.approx(0)
    assert (blind.interval, blind.reach.lack) == (None, Lack.ALIKE)
    # A rig that nobody called does not count as one.
    with_gap = pooled_kappa([[0, None, 1], [1, None, 1]], [0, 1, 1], range(2))
    assert with_gap == pooled_kappa([[0, 1], [1, 1]], [0, 1], range(2))
    with pytest.raises(ValueError, match="1 rigs and the other 2"):
        pooled_kappa([[0]], [0, 1], range(2))
    with pytest.raises(ValueError, match="no counts"):
        pooled_kappa([[None], [None]], [0], range(2))


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


def test_fleiss_interval_lies_evenly_on_the_logit_between_the_lowest_and_one():
    result = fleiss_kappa(DIAGNOSES, confidence=0.9)
    lowest = -1 / 5  # six judges, who agree in some pairs however they answer
    half = stats.t.ppf(0.95, 29) * result.standard_error

    def logit(value):
        return np.log((value - lowest) / (1 - value))

    slope = 1 / (result.kappa - lowest) + 1 / (1 - result.kappa)
    low, high = map(logit, result.interval)
    assert (low + high) / 2 == pytest.approx(logit(result.kappa), **NEAR)
    assert (high - low) / 2 == pytest.approx(half * slope, **NEAR)


@given(st.integers(0, 10**6), st.integers(2, 9), st.integers(5, 30), st.integers(2, 4))
def test_mutual_kappa_is_fleiss_with_the_spread_between_judges_too(seed, judges, rigs, kinds):
    said, __ = random_calls(seed, judges, rigs, kinds)
    codes = np.array(said)
    assume(len(np.unique(codes)) > 1)
    agrees = codes[:, None, :] == codes[None, :, :]
    said_so = codes[:, :, None] == np.arange(kinds)

    def kappa(of_judges, of_rigs):
        pairs = np.outer(of_judges, of_judges) - np.diag(of_judges**2)
        observed = np.einsum("ab,abr,r->", pairs, agrees, of_rigs) / pairs.sum() / of_rigs.sum()
        shares = np.einsum("j,r,jrk->k", of_judges, of_rigs, said_so)
        shares = shares / shares.sum()
        return (observed - shares @ shares) / (1 - shares @ shares)

    ours = mutual_kappa(said, range(kinds))
    counts, __ = category_counts(zip(*said, strict=True), range(kinds))
    assert ours.kappa == pytest.approx(fleiss_kappa(counts).kappa, **NEAR)
    assert ours.kappa == pytest.approx(kappa(np.ones(judges), np.ones(rigs)), **NEAR)
    between_rigs, between_judges = by_complex_step(kappa, judges, rigs)
    assert fleiss_kappa(counts).standard_error ** 2 == pytest.approx(between_rigs, **NEAR)
    assert ours.standard_error**2 >= between_rigs + between_judges - 1e-9
    if ours.interval:
        assert -1 / (judges - 1) <= ours.interval.low < ours.kappa < ours.interval.high <= 1


def test_mutual_kappa_leaves_out_rigs_that_somebody_left_open():
    said = [[0, 1, 1, 0], [0, None, 1, 1], [0, 1, 0, 0]]
    assert mutual_kappa(said, range(2)) == mutual_kappa([[0, 1, 0], [0, 1, 1], [0, 0, 0]], range(2))
    assert mutual_kappa([[None, 1], [0, None]], range(2)) is None
    assert mutual_kappa([[0, 0], [0, 0], [0, 0]], range(2)).kappa is None


@pytest.mark.parametrize(("judges", "rigs"), [(1, 24), (2, 24), (3, 24), (4, 20), (6, 24), (8, 40)])
def test_intervals_of_many_rounds_hold_the_truth(judges, rigs):
    # The benchmark prints more of this; these seeds keep what it found.
    found = kappa_trials.coverage(kappa_trials.GOOD, judges, rigs, rounds=300, seed=5)
    assert set(found) == ({"rules", "right"} if judges == 1 else {"rules", "mutual", "right"})
    for held in found.values():
        assert held.share >= 0.92


def test_fleiss_kappa_of_edge_cases():
    assert fleiss_kappa([[4, 0], [0, 4]]).kappa == 1
    assert fleiss_kappa([[4, 0], [4, 0]]).kappa is None
    alone = fleiss_kappa([[3, 1]])
    assert alone.kappa is not None
    assert (alone.interval, alone.reach.lack) == (None, Lack.ONE_RIG)


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
