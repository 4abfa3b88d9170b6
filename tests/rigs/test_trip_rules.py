"""
Seasons, areas, letter and catch: 50 CFR 648.80(a)(8), (a)(9)(i), (a)(15) and (a)(16).

The figures were read in an older snapshot of the regulation and can have changed.
"""

from datetime import date

import pytest

from rigs import rulebook
from rigs.judge import judge
from rigs.trip import Position, Trip
from rigs.waters import lies_in


def outcome(name, key, **trip):
    return judge(None, rulebook.load(name), trip=Trip(**trip)).finding(key).outcome


def at(latitude, longitude):
    """Return a Position from (degrees, minutes) north and west."""
    return Position(latitude[0] + latitude[1] / 60, -(longitude[0] + longitude[1] / 60))


@pytest.mark.parametrize(
    ("name", "clause", "before", "first", "last", "after"),
    [
        ("whiting", "(a)(15)", (8, 31), (9, 1), (12, 31), None),
        ("grate", "(a)(16)", (6, 30), (7, 1), (11, 30), (12, 1)),
        ("small-mesh-1", "(a)(9)(i)", (7, 14), (7, 15), (11, 15), (11, 16)),
        ("small-mesh-2", "(a)(9)(i)", None, (1, 1), (6, 30), (7, 1)),
    ],
)
def test_seasons(name, clause, before, first, last, after):
    requirement = rulebook.load(name).requirement("season")
    assert requirement.clause == f"50 CFR 648.80{clause}"
    for day in (first, last):
        assert outcome(name, "season", day=date(2025, *day)) == "pass"
    for day in filter(None, (before, after)):
        assert outcome(name, "season", day=date(2025, *day)) == "fail"


WEST = at((42, 5), (70, 25))  # near RF12 and RF13, outside the eastern part
EAST = at((42, 0), (69, 45))


@pytest.mark.parametrize(
    ("day", "position", "expected"),
    [
        ((9, 1), WEST, "pass"),
        ((11, 20), WEST, "pass"),
        ((11, 21), WEST, "fail"),
        ((12, 31), WEST, "fail"),
        ((11, 20), EAST, "pass"),
        ((11, 21), EAST, "pass"),
        ((12, 31), EAST, "pass"),
        ((10, 1), at((41, 0), (69, 45)), "fail"),
    ],
)
def test_only_the_eastern_part_is_open_late(day, position, expected):
    assert outcome("whiting", "area", day=date(2025, *day), position=position) == expected


def all_areas():
    for name in ("whiting", "grate", "small-mesh-1", "small-mesh-2"):
        for area in rulebook.load(name).requirement("area").limit:
            yield pytest.param(area, id=f"{name}: {area.title}")


@pytest.mark.parametrize("area", list(all_areas()))
def test_every_corner_and_every_edge_counts_as_inside(area):
    corners = [Position(latitude, longitude) for _, latitude, longitude in area.corners]
    for a, b in zip(corners, [*corners[1:], corners[0]], strict=True):
        assert lies_in(a, area) is True
        middle = Position((a.latitude + b.latitude) / 2, (a.longitude + b.longitude) / 2)
        assert lies_in(middle, area) is True
        # A step of a thousandth of a minute to either side of the edge: one is in, one is out.
        step = 0.001 / 60
        dy, dx = b.latitude - a.latitude, b.longitude - a.longitude
        size = (dx * dx + dy * dy) ** 0.5
        sides = [
            lies_in(
                Position(
                    middle.latitude + s * dx / size * step, middle.longitude - s * dy / size * step
                ),
                area,
            )
            for s in (1, -1)
        ]
        assert sides.count(True) == 1


def test_corner_figures():
    """The first, a middle and the last corner, typed from the regulation."""
    whole = rulebook.load("whiting").requirement("area").limit[0]
    assert len(whole.corners) == 13
    for index, name, latitude, longitude in (
        (0, "RF1", (42, 14.05), (70, 8.8)),
        (8, "RF9", (42, 8.35), (70, 4.05)),
        (12, "RF13", (42, 7.85), (70, 30.1)),
    ):
        position = at(latitude, longitude)
        assert whole.corners[index] == (
            name,
            pytest.approx(position.latitude),
            pytest.approx(position.longitude),
        )
    eastern = rulebook.load("whiting").requirement("area").limit[1]
    assert eastern.corners == whole.corners[:9]
    assert len(rulebook.load("small-mesh-1").requirement("area").limit[0].corners) == 11
    assert len(rulebook.load("small-mesh-2").requirement("area").limit[0].corners) == 5


def test_behind_a_shoreline_it_cannot_be_told():
    inland = at((43, 40), (70, 15))
    day = date(2025, 8, 1)
    assert outcome("grate", "area", day=day, position=inland) == "not measured"
    assert outcome("grate", "area", day=day, position=at((43, 30), (69, 50))) == "pass"
    assert outcome("grate", "area", day=day, position=at((43, 10), (70, 10))) == "fail"


def test_letter_must_be_on_board():
    assert outcome("whiting", "letter_aboard", letter_aboard=True) == "pass"
    assert outcome("whiting", "letter_aboard", letter_aboard=False) == "fail"
    assert outcome("whiting", "letter_aboard") == "not measured"


@pytest.mark.parametrize(
    ("pounds", "expected"), [(7499.9, "pass"), (7500, "pass"), (7500.1, "fail")]
)
def test_hake_limit(pounds, expected):
    """(a)(16): 7,500 lb, given as 3,402 kg."""
    assert outcome("grate", "hake_weight", hake=pounds * 0.45359237) == expected
    limit = rulebook.load("grate").requirement("hake_weight").limit
    assert limit == pytest.approx(3402, abs=0.5)


@pytest.mark.parametrize(
    ("regulated", "expected"), [(49.9, "pass"), (50.0, "fail"), (50.1, "fail")]
)
def test_regulated_species_stay_under_five_percent(regulated, expected):
    """(a)(8)(i): under 5 percent of the total catch by weight."""
    assert outcome("whiting", "bycatch_share", regulated=regulated, caught=1000.0) == expected


def test_no_share_without_a_catch():
    assert outcome("whiting", "bycatch_share", regulated=0.0, caught=0.0) == "not measured"


@pytest.mark.parametrize(
    "kept",
    ["silver hake", "offshore hake", "red hake", "butterfish", "mackerel", "squid", "scup"]
    + ["spiny dogfish", "herring", "Squid"],
)
def test_what_may_be_kept(kept):
    assert outcome("whiting", "kept_species", kept=(kept,)) == "pass"


def test_everything_else_goes_back():
    finding = judge(None, rulebook.load("whiting"), trip=Trip(kept=("squid", "lobster"))).finding(
        "kept_species"
    )
    assert (finding.outcome, finding.places) == ("fail", ("lobster",))


def test_gear_is_judged_with_the_trip_only_when_there_is_one():
    book = rulebook.load("whiting")
    assert book.gear == ("no-sweep", "chain-sweep")
    assert judge(None, book).findings == ()
