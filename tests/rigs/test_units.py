"""The factors are exact by definition (international yard and pound agreement, 1959)."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigs.words.units import (
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
    split_list,
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
        ("1,200", 365.76),
        ("1,200 mm", 1.2),
        ("1,200.5 mm", 1.2005),
        ("2,8 m", 2.8),
        ("0,500 m", 0.5),
        ("3 ft, 6 in", 1.0668),
        ("8-1", 97 * 0.0254),
        ("8-10 1/2", 106.5 * 0.0254),
        ("8-0", 2.4384),
        ("8'-1\"", 97 * 0.0254),
        ("2-1/2", 2.5 * 0.3048),
        ("2-1/2 in", 0.0635),
        ("٣ ft ٦ in", 1.0668),
        ("４２ in", 1.0668),
        ("२ १/२ in", 0.0635),
        ("２．５\u3000in", 0.0635),
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
        ("6 in 3 ft", "Write the larger unit first"),
        ("1/0", "divides by zero"),
        ("-3 ft", "below zero"),
        ("−3 ft", "below zero"),
        ("3 6 ft", "needs a unit"),
        ("8-12", "more than 11 inches"),
        ("8 ft - 1 in", "“- 1 in”"),
        ("1,2,3", "“,2,3”"),
        ("1.200,5", "“,5”"),
        ("8²", "“²”"),
        ("8①", "“①”"),
        ("1,070 m", "1.070 m or 1070 m"),
        ("9" * 100, "too long"),
    ],
)
def test_refusal_says_what_was_not_understood(text, told):
    with pytest.raises(UnitError, match=told):
        parse_length(text)


def test_a_bare_number_needs_a_unit_when_none_is_assumed():
    with pytest.raises(UnitError, match="needs a unit"):
        parse_length("8", bare=None)
    assert parse_length("42", bare="in") == parse_length("42 in")


def test_masses_and_speeds():
    assert parse_mass("7500 lb") == pytest.approx(3401.942775)
    assert parse_mass("2 lb 8 oz") == pytest.approx(2.5 * 0.45359237)
    assert parse_speed("3") == pytest.approx(3 * 1852 / 3600)
    assert parse_speed("1.5 m/s") == 1.5
    assert parse_mass("1,200 lb") == parse_mass("1200 lb")
    assert parse_mass("1,200") == parse_mass("1200")
    assert parse_speed("2,8") == parse_speed("2.8")
    with pytest.raises(UnitError):
        parse_speed("3 ft")


def test_a_comma_that_may_be_either_is_asked_about():
    for text in ("2,800 kn", "2,800"):
        with pytest.raises(UnitError, match=r"2\.800 kn or 2800 kn\?"):
            parse_speed(text)


def test_feet_and_inches_with_a_dash_are_read_where_feet_are_asked():
    for bare in ("in", "fm", "mm", None):
        with pytest.raises(UnitError, match="“-1”"):
            parse_length("8-1", bare)


@pytest.mark.parametrize(("bare", "example"), [("ft", "8 ft 6 in"), ("in", "2 1/2 in")])
def test_the_example_is_one_that_can_be_read(bare, example):
    with pytest.raises(UnitError, match=f"Write it like {example}\\."):
        parse_length("long", bare)
    assert parse_length(example, bare) > 0


@pytest.mark.parametrize(
    ("text", "entries"),
    [
        ("8 ft, 16 ft", ["8 ft", "16 ft"]),
        ("8 ft,16 ft", ["8 ft", "16 ft"]),
        ("8,16,24", ["8", "16", "24"]),
        ("2 1/2, 2 3/8\n2½; 2", ["2 1/2", "2 3/8", "2½", "2"]),
        ("2.5,2.4", ["2.5", "2.4"]),
        (" , ", []),
    ],
)
def test_lists_are_parted(text, entries):
    assert split_list(text) == entries


@pytest.mark.parametrize("text", ["8,16", "2,5", "8,16 ft", "2,5, 2,4"])
def test_two_numbers_that_may_be_one_are_asked_about(text):
    with pytest.raises(UnitError, match="one number or two"):
        split_list(text)


@given(st.integers(0, 100_000))
def test_sixteenths_of_an_inch_make_exact_round_trips(sixteenths):
    length = sixteenths / 16 * INCH
    assert parse_length(feet_inches(length)) == pytest.approx(length, rel=1e-15, abs=0)
    assert parse_length(inches(length)) == pytest.approx(length, rel=1e-15, abs=0)


# A digit of each of some scripts, by its zero: Arabic-Indic, Devanagari, Thai, full-width.
ZEROS = "٠०๐０"


@given(st.integers(0, 100_000), st.sampled_from(ZEROS))
def test_digits_of_other_scripts_read_alike(number, zero):
    told = "".join(chr(ord(zero) + int(digit)) for digit in str(number))
    assert parse_length(f"{told} in") == parse_length(f"{number} in")


@given(st.integers(0, 999), st.integers(0, 11), st.integers(0, 15))
def test_feet_and_inches_read_alike_however_they_are_parted(feet, inch, sixteenths):
    told = f"{inch} {sixteenths}/16" if sixteenths else f"{inch}"
    length = parse_length(f"{feet} ft {told} in")
    assert length == pytest.approx(feet * FOOT + (inch + sixteenths / 16) * INCH)
    for text in (
        f"{feet}-{told}",
        f"{feet}' {told}\"",
        f"{feet}'-{told}\"",
        f"{feet} ft, {told} in",
    ):
        assert parse_length(text) == length


@given(st.integers(0, 99_999_999))
def test_masses_with_their_thousands_parted_read_alike(pounds):
    assert parse_mass(f"{pounds:,} lb") == parse_mass(f"{pounds} lb")


@given(st.integers(0, 99), st.text("0123456789", min_size=1, max_size=6))
def test_a_decimal_comma_is_a_point_unless_three_digits_follow(whole, part):
    if whole and len(part) == 3:
        assert parse_length(f"{whole},{part} in") == parse_length(f"{whole}{part} in")
    else:
        assert parse_length(f"{whole},{part} in") == parse_length(f"{whole}.{part} in")


@given(st.text(max_size=40) | st.text("0123456789 .,/-'\"ftinm", max_size=8))
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
