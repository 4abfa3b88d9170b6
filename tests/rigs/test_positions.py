"""Positions in every way that people write them, and words for what cannot be read."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigs.words.positions import EXAMPLE, PositionError, parse_position
from rigs.words.trip import Position
from rigs.words.units import UnitError

RF1 = Position(42 + 14.05 / 60, -(70 + 8.8 / 60))  # the first corner of 50 CFR 648.80(a)(15)


@pytest.mark.parametrize(
    "text",
    [
        EXAMPLE,
        "42 14.05 70 08.8",
        "42 14.05, 70 08.8",
        "42 14.05 - 70 08.8",
        "42 14.05N/70 08.8W",
        "42°14.05', 70°08.8'",
        "42°14.05' 70°08.8'",
        "42° 14.050′ N, 70° 08.800′ W",
        "42º14.05’n 70º08.8’w",
        "N42-14.05 W070-08.8",
        "N 42° 14.05' W 70° 08.8'",
        "42-14.05N 070-08.8W",
        "42 14 03 N 70 08 48 W",
        "42°14′03″N 70°08′48″W",
        "42°14'03'' N; 70°08'48'' W",
        "70 08.8 W 42 14.05 N",
        "70 08.8, 42 14.05 N",
        "W 70 08.8, 42 14.05",
        "Lat 42 14.05 north, long. 70 08.8 west",
        "latitude: 42 14.05  longitude: -70 08.8",
        # as officers write them
        "4214.05N 07008.80W",
        "4214.05N07008.8W",
        "N4214.05 W07008.80",
        "4214.05 7008.8",
        "4214.05,-7008.80",
        "421403N 0700848W",
        "42:14.05N 70:08.80W",
        "42:14:03N, 070:08:48W",
        "42°14'.05N 70°08'.8W",
        # decimal commas, and digits of other scripts
        "42 14,05 N 70 08,8 W",
        "42 14,05 N, 70 08,8 W",
        "٤٢ ١٤.٠٥ N ٧٠ ٠٨.٨ W",
        "４２ １４．０５ N ７０ ０８．８ W",
    ],
)
def test_ways_to_write_one_position(text):
    read = parse_position(text)
    assert read.latitude == pytest.approx(RF1.latitude, abs=1e-9)
    assert read.longitude == pytest.approx(RF1.longitude, abs=1e-9)


@pytest.mark.parametrize(
    ("text", "latitude", "longitude"),
    [
        ("42.23417, -70.14667", 42.23417, -70.14667),
        ("42.23417 -70.14667", 42.23417, -70.14667),
        ("42.5N 70.25W", 42.5, -70.25),
        ("42 70", 42.0, -70.0),
        ("42° 70°", 42.0, -70.0),
        ("+42.5 +70.25", 42.5, 70.25),
        ("42 30 S, 170 15 E", -42.5, 170.25),
        ("-70.25, 42.5 N", 42.5, -70.25),
        ("42.5,70.25", 42.5, -70.25),
        ("42,5 70,25", 42.5, -70.25),
        ("42,70", 42.0, -70.0),
        ("4200N 07000W", 42.0, -70.0),
        ("0, 0", 0.0, 0.0),
        ("90 N 180 E", 90.0, 180.0),
    ],
)
def test_decimal_degrees_signs_and_hemispheres(text, latitude, longitude):
    read = parse_position(text)
    assert (read.latitude, read.longitude) == (
        pytest.approx(latitude, abs=1e-12),
        pytest.approx(longitude, abs=1e-12),
    )


thousandths = st.integers(0, 89 * 60000), st.integers(0, 179 * 60000)


def parts(thousandth):
    degrees, rest = divmod(thousandth, 60000)
    return degrees, rest / 1000


WAYS = {
    "letters behind": lambda a, b, ns, ew: f"{a[0]} {a[1]:06.3f} {ns} {b[0]} {b[1]:06.3f} {ew}",
    "letters before": lambda a, b, ns, ew: f"{ns}{a[0]}°{a[1]:.3f}' {ew}{b[0]:03}°{b[1]:.3f}'",
    "dashes": lambda a, b, ns, ew: f"{a[0]}-{a[1]:06.3f}{ns} {b[0]:03}-{b[1]:06.3f}{ew}",
    "longitude first": lambda a, b, ns, ew: f"{b[0]} {b[1]:.3f}{ew}, {a[0]} {a[1]:.3f}{ns}",
}


@pytest.mark.parametrize("way", WAYS)
@given(*thousandths, st.sampled_from("NS"), st.sampled_from("EW"))
def test_what_is_written_is_read_back(way, latitude, longitude, ns, ew):
    read = parse_position(WAYS[way](parts(latitude), parts(longitude), ns, ew))
    assert read.latitude == pytest.approx(latitude / 60000 * (1 if ns == "N" else -1), abs=1e-9)
    assert read.longitude == pytest.approx(longitude / 60000 * (1 if ew == "E" else -1), abs=1e-9)


@given(st.floats(-90, 90), st.floats(-180, 180))
def test_what_the_page_prints_is_read_back(latitude, longitude):
    """To the hundredth of a minute that is printed; 59.996 minutes become a degree."""
    position = Position(latitude, longitude)
    read = parse_position(str(position))
    assert read.latitude == pytest.approx(latitude, abs=0.0051 / 60)
    assert read.longitude == pytest.approx(longitude, abs=0.0051 / 60)
    assert str(parse_position(str(read))) == str(read)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "Nothing was entered"),
        ("   ", "Nothing was entered"),
        ("42 14.05 N" + " " * 90 + "70 W", "too long"),
        ("off the point", "was not understood"),
        ("42 14.05 N 70 08.8 W approx", "“APPROX” in “42 14.05 N 70 08.8 W approx”"),
        ("42 14.05 N", "half a position"),
        ("42 14.05", "half a position"),
        ("42 14.05,", "half a position"),
        ("N W", "half a position"),
        ("42 60 N 70 08 W", "60 minutes in “42 60 N 70 08 W” is too many: a degree has 60"),
        ("42 14 61 N 70 08 00 W", "61 seconds"),
        ("95 N 70 W", "A latitude cannot be 95 degrees"),
        ("42 N 181 W", "A longitude cannot be 181 degrees"),
        ("9214.05N 07008.8W", "A latitude cannot be 92.2342 degrees: 90 is the most"),
        ("4260.00N 07008.80W", "60 minutes in"),
        ("42 1405 N 70 0845 W", "1405 minutes in"),
        ("42140507 N 70 W", "A latitude cannot be"),
        ("42 14.05 N 70 08.8 N", "has two latitudes and no longitude"),
        ("42 14.05 W 70 08.8 W", "has two longitudes and no latitude"),
        ("42.5 14 N 70 W", "Only the last number"),
        ("42 14.05 N 70 08.8 E W", "letters"),
        ("42 14.05 N 70 08.8 W 5", "letters"),
        ("-42 N 70 W", "a sign and a letter"),
        ("42 14.05 N, 70 -08.8", "sign out of place"),
        ("42'14 N 70 W", "The ' in"),
        ("42 14.05 70", "cannot see where the latitude ends"),
        ("42 14, N, 70 08.8, W", "too many commas"),
        ("1 2 3 4 N 5 W", "too many numbers"),
    ],
)
def test_what_cannot_be_read_says_why_and_how(text, words):
    with pytest.raises(PositionError) as refused:
        parse_position(text)
    assert isinstance(refused.value, UnitError)
    assert words in str(refused.value)
    assert str(refused.value).endswith(f"Write it like {EXAMPLE}.")


@pytest.mark.parametrize(
    ("text", "words"),
    [("42.2 70.1", "north or south"), ("42.2 N 70.1", "east or west")],
)
def test_letters_can_be_insisted_on(text, words):
    with pytest.raises(PositionError, match=words):
        parse_position(text, bare=None)
    assert parse_position("42.2 N, -70.1", bare=None) == Position(42.2, -70.1)


@given(st.text(st.sampled_from("0123456789 .,-+NSEW°'\"/;x"), max_size=30))
def test_anything_else_is_refused_in_words(text):
    told = ""
    read = Position(0, 0)
    try:
        read = parse_position(text)
    except PositionError as error:
        told = str(error)
    assert not told or told.endswith(f"Write it like {EXAMPLE}.")
    assert abs(read.latitude) <= 90
    assert abs(read.longitude) <= 180


@pytest.mark.parametrize("text", ["70 08.8, 42 14.05", "-70.1467, 42.2342", "70 08.8 42 14.05"])
def test_a_longitude_written_first_is_asked_about(text):
    with pytest.raises(PositionError, match="longitude first"):
        parse_position(text)


def test_with_letters_either_may_come_first():
    assert parse_position("70 08.8 W, 42 14.05 N") == parse_position("42 14.05 N 70 08.8 W")
