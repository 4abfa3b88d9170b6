"""Percents and chances as they are said everywhere."""

from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction

import pytest

from rigs.words.shares import (
    chance,
    percent,
    percent_number,
    percent_range,
    percent_sign,
    ratio_number,
)


@pytest.mark.parametrize(
    ("share", "said", "sign"),
    [
        (0, "0 percent", "0%"),
        (1e-6, "less than 1 percent", "<1%"),
        (0.0049, "less than 1 percent", "<1%"),
        (0.005, "1 percent", "1%"),
        (0.145, "15 percent", "15%"),  # 14.499999999999998 in binary
        (0.025, "3 percent", "3%"),  # not to the even one
        (0.994, "99 percent", "99%"),
        (0.995, "more than 99 percent", ">99%"),
        (0.99999, "more than 99 percent", ">99%"),
        (1, "100 percent", "100%"),
        (1.2, "120 percent", "120%"),
        (-0.125, "-13 percent", "-13%"),
    ],
)
def test_whole_percents(share, said, sign):
    assert (percent(share), percent_sign(share)) == (said, sign)


def test_every_share_of_up_to_200_things_is_that_of_the_decimals():
    for of in range(1, 201):
        for count in range(of + 1):
            exact = Fraction(100 * count, of)
            whole = int(
                (Decimal(exact.numerator) / Decimal(exact.denominator)).quantize(
                    Decimal(1), ROUND_HALF_UP
                )
            )
            if whole == 0 and count:
                expected = "less than 1"
            elif whole == 100 and count < of:
                expected = "more than 99"
            else:
                expected = str(whole)
            assert percent_number(count / of) == expected


def test_tenths_are_for_what_is_set_against_a_limit():
    assert percent(0.0462, 1) == "4.6 percent"
    assert percent(0.05, 1) == "5.0 percent"
    assert percent(0.0004, 1) == "less than 0.1 percent"
    assert percent(0.9996, 1) == "more than 99.9 percent"
    assert (percent(0, 1), percent(1, 1)) == ("0 percent", "100 percent")


def test_a_ratio_may_pass_all_and_come_near_it():
    assert [ratio_number(each) for each in (0, 0.002, 0.625, 0.998, 1.034, 12.5)] == [
        "0",
        "less than 1",
        "63",
        "100",
        "103",
        "1,250",
    ]


def test_ends_of_a_range():
    assert percent_range(0, 0.1425) == "0 to 14"
    assert percent_range(0.002, 1) == "less than 1 to 100"


@pytest.mark.parametrize(
    ("p", "said"),
    [
        (0, "less than 1 in 1,000"),
        (0.00099, "less than 1 in 1,000"),
        (0.001, "1 in 1,000"),
        (0.0044, "4 in 1,000"),
        (0.0099, "1 in 100"),
        (0.01, "1 in 100"),
        (0.365, "37 in 100"),
        (0.998, "more than 99 in 100"),
        (1, "100 in 100"),
    ],
)
def test_chances(p, said):
    assert chance(p) == said
