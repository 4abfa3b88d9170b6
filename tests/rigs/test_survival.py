"""Kaplan-Meier curves, against the leukaemia data of 1963 and against lifelines."""

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from lifelines import KaplanMeierFitter
from lifelines.utils import median_survival_times

from rigs.statistics.survival import kaplan_meier

NEAR = {"rel": 1e-9, "abs": 1e-9}

# Freireich and others (1963), weeks of remission of children with leukaemia, treated
# and untreated; the textbook case of this curve (from memory).
TREATED = [6, 6, 6, 7, 10, 13, 16, 22, 23, 6, 9, 10, 11, 17, 19, 20, 25, 32, 32, 34, 35]
TREATED_EVENTS = [True] * 9 + [False] * 12
UNTREATED = [1, 1, 2, 2, 3, 4, 4, 5, 5, 8, 8, 8, 8, 11, 11, 12, 12, 15, 17, 22, 23]

followed = st.lists(st.tuples(st.integers(0, 30), st.booleans()), min_size=1, max_size=60)


def test_treated_children_of_1963():
    curve = kaplan_meier(TREATED, TREATED_EVENTS)
    events = [step for step in curve.steps if step.events]
    assert [step.time for step in events] == [6, 7, 10, 13, 16, 22, 23]
    assert [step.at_risk for step in events] == [21, 17, 15, 12, 11, 7, 6]
    # As printed in textbooks (from memory).
    waiting = [0.857, 0.807, 0.753, 0.690, 0.627, 0.538, 0.448]
    assert [step.waiting for step in events] == pytest.approx(waiting, abs=5e-4)
    errors = [0.0764, 0.0869, 0.0963, 0.1068, 0.1141, 0.1282, 0.1346]
    assert [step.error for step in events] == pytest.approx(errors, abs=6e-5)
    assert curve.median == 23


def test_untreated_children_of_1963():
    curve = kaplan_meier(UNTREATED, [True] * 21)
    assert curve.median == 8
    assert curve.steps[-1].waiting == 0
    assert curve.steps[-1].happened == 1
    assert curve.steps[-1].interval is None
    assert curve.steps[-1].error is None
    # Without censoring the curve is the plain share of those still waiting.
    for step in curve.steps:
        still = sum(time > step.time for time in UNTREATED)
        assert step.waiting == pytest.approx(still / 21)


def the_reference(times, happened, confidence):
    fitter = KaplanMeierFitter(alpha=1 - confidence)
    return fitter.fit(times, happened)


@settings(max_examples=50)
@given(followed, st.sampled_from([0.8, 0.95]))
def test_curve_equals_lifelines(people, confidence):
    times, happened = map(list, zip(*people, strict=True))
    curve = kaplan_meier(times, happened, confidence)
    fitter = the_reference(times, happened, confidence)
    table, survival = fitter.event_table, fitter.survival_function_["KM_estimate"]
    limits = fitter.confidence_interval_.to_numpy()
    at = {time: place for place, time in enumerate(fitter.survival_function_.index)}
    assert {step.time for step in curve.steps} == set(times)
    for step in curve.steps:
        row = table.loc[step.time]
        # lifelines counts newcomers at time 0 as at risk from then on, as we do.
        assert step.at_risk == row["at_risk"]
        assert (step.events, step.censored) == (row["observed"], row["censored"])
        assert step.waiting == pytest.approx(survival.loc[step.time], **NEAR)
        if step.interval:
            assert step.interval == pytest.approx(tuple(limits[at[step.time]]), **NEAR)


@settings(max_examples=50)
@given(followed)
def test_median_equals_lifelines(people):
    times, happened = map(list, zip(*people, strict=True))
    curve = kaplan_meier(times, happened)
    # At a half to the last digit the reference's answer hangs on its rounding; the test
    # below says what ours must be there.
    assume(all(abs(step.waiting - 0.5) > 1e-9 for step in curve.steps))
    median = the_reference(times, happened, 0.95).median_survival_time_
    assert (np.inf if curve.median is None else curve.median) == median


@pytest.mark.parametrize("vessels", range(2, 200, 2))
def test_median_at_exactly_a_half(vessels):
    times = list(range(1, vessels + 1))
    assert kaplan_meier(times, [True] * vessels).median == vessels // 2


def test_interval_of_the_median_equals_lifelines():
    fitter = the_reference(TREATED, TREATED_EVENTS, 0.95)
    low, high = median_survival_times(fitter.confidence_interval_).to_numpy()[0]
    curve = kaplan_meier(TREATED, TREATED_EVENTS)
    assert curve.median_interval == (low, None)
    assert high == np.inf
    curve = kaplan_meier(UNTREATED, [True] * 21)
    fitter = the_reference(UNTREATED, [True] * 21, 0.95)
    expected = median_survival_times(fitter.confidence_interval_).to_numpy()[0]
    assert curve.median_interval == tuple(expected)


def test_nobody_converted_yet():
    curve = kaplan_meier([10, 20], [False, False])
    assert [step.waiting for step in curve.steps] == [1, 1]
    assert [step.interval for step in curve.steps] == [None, None]
    assert (curve.median, curve.median_interval) == (None, (None, None))


@pytest.mark.parametrize(
    ("times", "happened", "reason"),
    [
        ([], [], "nobody"),
        ([1, 2], [True], "do not match"),
        ([-1], [True], "from 0 up"),
        ([float("nan")], [True], "from 0 up"),
        ([float("inf")], [False], "from 0 up"),
    ],
)
def test_kaplan_meier_refuses(times, happened, reason):
    with pytest.raises(ValueError, match=reason):
        kaplan_meier(times, happened)
