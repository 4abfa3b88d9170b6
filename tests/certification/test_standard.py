"""The pass mark by modified Angoff, against a case worked by hand and exact arithmetic."""

import statistics

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigs.statistics.standard import StandardError, angoff, passes

MARKS = {"spacing": 1, "stock": 1, "floats": 2}
PANEL = {
    "Ann": {"spacing": 0.8, "stock": 0.6, "floats": 0.7},
    "Bo": {"spacing": 0.9, "stock": 0.7, "floats": 0.8},
    "Cy": {"spacing": 0.7, "stock": 0.5, "floats": 0.9},
}


def test_angoff_worked_by_hand():
    # Ann (0.8 + 0.6 + 2 x 0.7) / 4 = 0.70, Bo 0.80, Cy 0.75: mean 0.75, SD 0.05.
    result = angoff(PANEL, MARKS)
    assert result.by_judge == pytest.approx({"Ann": 0.70, "Bo": 0.80, "Cy": 0.75})
    assert result.cut == pytest.approx(0.75)
    assert result.spread == pytest.approx(0.05)
    assert result.error == pytest.approx(0.05 / 3**0.5)
    assert [item.item for item in result.items] == ["spacing", "stock", "floats"]
    assert [item.mean for item in result.items] == pytest.approx([0.8, 0.6, 0.8])
    assert [item.spread for item in result.items] == pytest.approx([0.1, 0.1, 0.1])
    assert result.unfinished == ()


@given(
    st.lists(st.lists(st.integers(0, 100), min_size=4, max_size=4), min_size=2, max_size=9),
    st.lists(st.integers(1, 10), min_size=4, max_size=4),
)
def test_angoff_equals_the_standard_library(rows, worth):
    rows = np.array(rows) / 100
    judgements = {judge: dict(enumerate(row)) for judge, row in enumerate(rows)}
    result = angoff(judgements, dict(enumerate(worth)))
    cuts = rows @ np.array(worth) / sum(worth)
    near = {"rel": 1e-9, "abs": 1e-12}
    assert result.cut == pytest.approx(statistics.mean(cuts), **near)
    assert result.spread == pytest.approx(statistics.stdev(cuts), **near)
    assert result.error == pytest.approx(statistics.stdev(cuts) / len(cuts) ** 0.5, **near)
    for item, column in zip(result.items, rows.T, strict=True):
        assert item.mean == pytest.approx(statistics.mean(column), **near)
        assert item.spread == pytest.approx(statistics.stdev(column), **near)


def test_a_judge_who_has_not_finished_is_named_and_left_out():
    result = angoff({**PANEL, "Di": {"spacing": 0.1}}, MARKS)
    assert result.unfinished == ("Di",)
    assert result.cut == pytest.approx(0.75)


def test_one_judge_has_no_spread():
    result = angoff({"Ann": PANEL["Ann"]}, MARKS)
    assert result.cut == pytest.approx(0.70)
    assert (result.spread, result.error, result.items[0].spread) == (None, None, None)


@pytest.mark.parametrize(
    ("judgements", "marks", "reason"),
    [
        ({}, MARKS, "No judge"),
        ({"Ann": {"spacing": 0.5}}, MARKS, "No judge"),
        ({"Ann": {"spacing": 1.2}}, MARKS, "from 0 to 1"),
        ({"Ann": {"spacing": -0.1}}, MARKS, "from 0 to 1"),
        ({"Ann": {"spacing": float("nan")}}, MARKS, "from 0 to 1"),
        ({"Ann": {"twine": 0.5}}, MARKS, "'twine'"),
        (PANEL, {**MARKS, "floats": 0}, "worth something"),
        (PANEL, {}, "worth something"),
    ],
)
def test_angoff_refuses(judgements, marks, reason):
    with pytest.raises(StandardError, match=reason):
        angoff(judgements, marks)


def test_a_cut_that_rounding_lifts_still_passes_the_same_mark():
    cut = 0.1 + 0.2
    assert cut > 0.3
    assert passes(0.3, cut)
    assert not passes(0.2999, cut)
