"""Small counts left out, and not to be had back by subtraction."""

from hypothesis import given
from hypothesis import strategies as st

from training.fleet.suppression import SMALLEST, shown, suppressed

COUNTS = st.dictionaries(st.sampled_from("abcdefgh"), st.integers(0, 40))


def test_noughts_and_large_counts_are_shown():
    assert [shown(count) for count in (0, 1, 4, 5, 6)] == [0, None, None, 5, 6]


def test_a_single_small_count_takes_another_with_it():
    assert suppressed({"a": 2, "b": 9, "c": 30, "d": 0}) == {
        "a": None,
        "b": None,
        "c": 30,
        "d": 0,
    }


def test_two_small_counts_that_make_a_small_sum_take_another_with_them():
    assert suppressed({"a": 1, "b": 1, "c": 30}) == {"a": None, "b": None, "c": None}


@given(COUNTS)
def test_the_total_never_tells_what_was_left_out(counts):
    found = suppressed(counts)
    hidden = [key for key, count in found.items() if count is None]
    left_out = sum(counts[key] for key in hidden)
    assert all(count in (None, counts[key]) for key, count in found.items())
    assert {key for key, count in counts.items() if 0 < count < SMALLEST} <= set(hidden)
    if 0 < left_out < SMALLEST:
        # Nothing is left that could be left out too.
        assert not any(found.values())
