import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigs.words.units import FOOT, INCH, UnitError
from training.exercises.typed_places import MOST, read_distances, split, write_distances


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("6 ft\n14 ft", [6 * FOOT, 14 * FOOT]),
        ("6\n14", [6 * FOOT, 14 * FOOT]),
        ("6 ft; 14 ft 6 in;", [6 * FOOT, 14.5 * FOOT]),
        ("6, 14, 22", [6 * FOOT, 14 * FOOT, 22 * FOOT]),
        ("6 ft, 14", [6 * FOOT, 14 * FOOT]),
        ("\n\n 42 in \r\n", [42 * INCH]),
        ("  ", []),
    ],
)
def test_entries_stand_on_lines_or_between_marks(text, expected):
    assert read_distances(text) == pytest.approx(expected, abs=1e-12)


@pytest.mark.parametrize("text", ["3 ft, 6 in", "14, 6", "6 ft, 6 ft"])
def test_what_can_be_read_in_two_ways_is_refused(text):
    with pytest.raises(UnitError, match="line of its own"):
        read_distances(text)


def test_the_refusal_names_the_entry():
    with pytest.raises(UnitError, match="8 fet"):
        read_distances("6 ft\n8 fet\n9 ft")


def test_endless_lists_are_refused():
    with pytest.raises(UnitError, match="no footrope"):
        split("1\n" * (MOST + 1))


@given(st.lists(st.integers(0, 1200), max_size=MOST))
def test_whole_inches_survive_writing_and_reading(inches):
    metres = [each * INCH for each in inches]
    assert read_distances(write_distances(metres)) == pytest.approx(metres, abs=1e-9)
