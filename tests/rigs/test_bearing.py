"""Distances and bearings against published figures and against sums of one's own."""

from math import acos, cos, radians, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigs.words.bearing import NAUTICAL_MILE, Run, degree_lengths, miles, run
from rigs.words.trip import Position


def dms(degrees, minutes, seconds):
    return degrees + minutes / 60 + seconds / 3600


def test_flinders_peak_to_buninyong():
    """
    The worked example of the Geocentric Datum of Australia Technical Manual (from memory):
    54,972.271 m, leaving at 306°52'05.37", the way back at 127°10'25.07".
    """
    peak = Position(-dms(37, 57, 3.72030), dms(144, 25, 29.52440))
    hill = Position(-dms(37, 39, 10.15610), dms(143, 55, 35.38390))
    found = run(peak, hill)
    assert found.metres == pytest.approx(54972.271, abs=0.5)
    # The course of a straight line on the chart lies halfway between both ends' azimuths.
    halfway = (dms(306, 52, 5.37) + dms(127, 10, 25.07) + 180) / 2
    assert found.bearing == pytest.approx(halfway, abs=0.001)


@pytest.mark.parametrize(
    ("latitude", "north", "east"),
    [(0, 110_574, 111_320), (30, 110_852, 96_486), (45, 111_132, 78_847), (60, 111_412, 55_800)],
)
def test_length_of_a_degree(latitude, north, east):
    """Tables of the length of a degree on WGS 84, in metres (from memory)."""
    assert degree_lengths(latitude) == (
        pytest.approx(north, abs=1),
        pytest.approx(east, abs=1),
    )


def test_a_nautical_mile_is_what_it_is_by_definition():
    assert pytest.approx(1852) == NAUTICAL_MILE


near = st.floats(-0.5, 0.5)


@given(st.floats(41, 44.5), st.floats(-71, -69), near, near)
def test_near_a_great_circle_on_a_round_earth(latitude, longitude, north, east):
    """
    Against the law of cosines on a sphere of 6,371.0 km, which is off by up to a third of a
    percent from the ellipsoid.
    """
    start, end = Position(latitude, longitude), Position(latitude + north, longitude + east)
    a, b = radians(start.latitude), radians(end.latitude)
    cosine = sin(a) * sin(b) + cos(a) * cos(b) * cos(radians(east))
    found = run(start, end).metres
    assert found == pytest.approx(6_371_000 * acos(min(1.0, cosine)), rel=0.0035, abs=1)
    assert run(end, start).metres == pytest.approx(found)


@pytest.mark.parametrize(
    ("north", "east", "words"),
    [
        (1, 0, "000° true (N)"),
        (0, 1, "090° true (E)"),
        (-1, 0, "180° true (S)"),
        (0, -1, "270° true (W)"),
        (1, -0.001, "000° true (N)"),
    ],
)
def test_bearings_run_clockwise_from_north(north, east, words):
    assert run(Position(42, -70), Position(42 + north / 60, -70 + east / 60)).bearing_text == words


def test_a_place_is_no_distance_from_itself():
    assert run(Position(42, -70), Position(42, -70)) == Run(0.0, 0.0)


@pytest.mark.parametrize(
    ("metres", "words"),
    [
        (0, "0 nautical miles"),
        (1852, "1 nautical mile"),
        (1852 * 3.417, "3.42 nautical miles"),
        (92.6, "0.05 nautical miles"),
    ],
)
def test_distances_in_words(metres, words):
    assert miles(metres) == words


def test_a_minute_of_latitude_is_about_a_mile():
    assert run(Position(44.9917, -70), Position(45.0083, -70)).distance_text == "1 nautical mile"
