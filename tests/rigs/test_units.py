"""The factors are exact by definition (international yard and pound agreement, 1959)."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigs.units import (
    FATHOM,
    FOOT,
    INCH,
    UnitError,
    fathoms,
    feet_inches,
    inches,
    metric,
    parse_length,
    parse_mass,
    parse_speed,
    pounds,
)


@pytest.mark.parametrize(
    ("text", "metres"),
    [
        ("3 ft 6 in", 1.0668),
        ("3'6\"", 1.0668),
        ("3’ 6”", 1.0668),
        ("3'6", 1.0668),
        ('42"', 1.0668),
        ("42 in", 1.0668),
        ("42in", 1.0668),
        ("5/16", 0.0079375),
        ("5/16 in", 0.0079375),
        ("⅜", 0.009525),
        ("2 1/2 in", 0.0635),
        ("2½ in", 0.0635),
        ("2-1/2 inches", 0.0635),
        ("3 ft 6 1/2 in", 1.0795),
        ("12 fm", 21.9456),
        ("1.07 m", 1.07),
        ("20.3 cm", 0.203),
        ("50 mm", 0.05),
        ("8", 2.4384),
        (".5 ft", 0.1524),
    ],
)
def test_reads_what_people_write(text, metres):
    assert parse_length(text) == pytest.approx(metres, rel=1e-15)


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("", "Nothing was entered"),
        ("long", "“long”"),
        ("3 ft 6 bananas", "“bananas”"),
        ("5 kg", "“kg”"),
        ("6 in 3 ft", "out of order"),
        ("1/0", "nought"),
        ("-3 ft", "less than nothing"),
        ("3 6 ft", "unit"),
        ("9" * 100, "too long"),
    ],
)
def test_refusal_says_what_was_not_understood(text, told):
    with pytest.raises(UnitError, match=told):
        parse_length(text)


def test_a_bare_number_needs_a_unit_when_none_is_assumed():
    with pytest.raises(UnitError, match="which unit"):
        parse_length("8", bare=None)
    assert parse_length("42", bare="in") == parse_length("42 in")


def test_masses_and_speeds():
    assert parse_mass("7500 lb") == pytest.approx(3401.942775)
    assert parse_mass("2 lb 8 oz") == pytest.approx(2.5 * 0.45359237)
    assert parse_speed("3") == pytest.approx(3 * 1852 / 3600)
    assert parse_speed("1.5 m/s") == 1.5
    with pytest.raises(UnitError):
        parse_speed("3 ft")


@given(st.integers(0, 100_000))
def test_sixteenths_of_an_inch_make_exact_round_trips(sixteenths):
    length = sixteenths / 16 * INCH
    assert parse_length(feet_inches(length)) == pytest.approx(length, rel=1e-15, abs=0)
    assert parse_length(inches(length)) == pytest.approx(length, rel=1e-15, abs=0)


@given(st.text(max_size=40))
def test_any_text_is_read_or_refused(text):
    try:
        length = parse_length(text)
    except UnitError:
        return
    assert length >= 0


def test_prints_the_words_of_the_deck():
    assert feet_inches(3.5 * FOOT) == "3 ft 6 in"
    assert feet_inches(-8 * FOOT) == "-8 ft"
    assert feet_inches(5 / 16 * INCH) == "5/16 in"
    assert feet_inches(11.999 * INCH) == "1 ft"
    assert inches(42 * INCH) == "42 in"
    assert fathoms(40 * FATHOM) == "40 fm"
    assert pounds(3401.942775) == "7500 lb"
    assert metric(8 * FOOT) == "2.44 m"
    assert metric(8 * INCH) == "20.3 cm"
    assert metric(2.5 * INCH) == "6.35 cm"
    assert metric(3 / 8 * INCH) == "9.5 mm"
