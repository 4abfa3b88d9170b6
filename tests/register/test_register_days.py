"""Days as programs write them: read if clear, asked about if the order may be another."""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from training.register.table.days import ORDERS, order_of, read_day, readings

JULY_1 = date(2026, 7, 1)


class TestClearDays:
    @pytest.mark.parametrize(
        "text",
        [
            "2026-07-01",
            "2026/7/1",
            "2026.07.01",
            "20260701",
            "2026-07-01 00:00:00",
            "2026-07-01T08:30",
            "1 Jul 2026",
            "1-Jul-26",
            "July 1, 2026",
            "Jul 1st 2026",
            "2026 July 1",
        ],
    )
    def test_are_the_same_in_any_order(self, text):
        assert {read_day(text, order) for order in (*ORDERS, "")} == {JULY_1}
        assert order_of([text]).order == ""

    @pytest.mark.parametrize(
        "text",
        ["", "soon", "13/13/2026", "2026-02-30", "7/2026", "46204", "1 July", "1/2-2026", "0/0/0"],
    )
    def test_what_is_no_day(self, text):
        assert readings(text) == {}
        assert order_of([text]).order == ""


class TestOrder:
    @pytest.mark.parametrize(
        ("texts", "order"),
        [
            (["7/1/2026", "7/15/2026"], "mdy"),
            (["1/7/2026", "15.7.2026"], "dmy"),
            (["26/07/01", "26/7/31", "31/7/26", "5/6/26"], None),
            (["99-12-31"], "ymd"),
            (["5/5/2026", "6/6/2026"], "mdy"),  # as it makes no difference
            (["7/1/2026"], None),
            (["7/1/2026", "2026-07-15"], None),  # what is clear says nothing of the others
            (["7/15/2026", "15/7/2026"], None),
            (["7/1/2026", "soon"], None),
        ],
    )
    def test_is_known_only_if_it_follows(self, texts, order):
        assert order_of(texts).order == order

    def test_offers_what_it_may_be(self):
        assert order_of(["7/1/2026"]).choices == ("mdy", "dmy")
        assert order_of(["7/1/26"]).choices == ("mdy", "dmy", "ymd")
        assert order_of(["7/15/2026", "15/7/2026"]).choices == ("mdy", "dmy")

    @given(
        st.lists(st.dates(date(2000, 1, 1), date(2068, 12, 31)), min_size=1),
        st.sampled_from(["mdy", "dmy"]),
    )
    def test_a_known_order_reads_each_day_as_it_was_written(self, days, order):
        written = [
            f"{day.month}/{day.day}/{day.year}" if order == "mdy" else f"{day:%d.%m.%Y}"
            for day in days
        ]
        found = order_of(written)
        if found.order is not None:
            assert [read_day(text, found.order) for text in written] == days
        else:
            assert order in found.choices
            # Only days whose number could be a month leave it open.
            assert all(day.day <= 12 for day in days)

    def test_two_figures_are_a_year_near_by(self):
        assert read_day("7/1/26", "mdy") == JULY_1
        assert read_day("7/1/99", "mdy") == date(1999, 7, 1)
