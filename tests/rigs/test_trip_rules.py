"""
Seasons, areas, closures, letter and catch: 50 CFR 648.80(a)(8), (a)(9)(i), (a)(15) and
(a)(16), 648.81(d) and (e), 648.86(d).

The figures were read in an older snapshot of the regulation and can have changed.
"""

from datetime import date

import pytest

from rigs.rules import rulebook
from rigs.rules.judge import judge
from rigs.rules.waters import lies_in
from rigs.words.species import kinds
from rigs.words.trip import Position, Trip
from rigs.words.units import INCH, POUND

FISHERIES = ("whiting", "grate", "small-mesh-1", "small-mesh-2")


def outcome(name, key, **trip):
    return judge(None, rulebook.load(name), trip=Trip(**trip)).finding(key).outcome


def at(latitude, longitude):
    """Return a Position from (degrees, minutes) north and west."""
    return Position(latitude[0] + latitude[1] / 60, -(longitude[0] + longitude[1] / 60))


@pytest.mark.parametrize(
    ("name", "clause", "before", "first", "last", "after"),
    [
        ("whiting", "(a)(15)(i)(F)", (8, 31), (9, 1), (12, 31), None),
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
    for name in FISHERIES:
        for area in rulebook.load(name).requirement("area").limit:
            yield pytest.param(area, id=f"{name}: {area.title}")
    for area in rulebook.load("whiting", "1").requirement("closures").limit:
        yield pytest.param(area, id=area.title)


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
    whole = rulebook.load("whiting", "1").requirement("area").limit[0]
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
    eastern = rulebook.load("whiting", "1").requirement("area").limit[1]
    assert eastern.corners == whole.corners[:9]
    for name, first, last in (("small-mesh-1", 1, 11), ("small-mesh-2", 13, 17)):
        (area,) = rulebook.load(name).requirement("area").limit
        assert [corner[0] for corner in area.corners] == [
            f"SM{number}" for number in range(first, last + 1)
        ]


def test_behind_a_shoreline_it_cannot_be_told():
    inland = at((43, 40), (70, 15))
    day = date(2025, 8, 1)
    assert outcome("grate", "area", day=day, position=inland) == "not measured"
    assert outcome("grate", "area", day=day, position=at((43, 30), (69, 50))) == "pass"
    assert outcome("grate", "area", day=day, position=at((43, 10), (70, 10))) == "fail"


@pytest.mark.parametrize("name", FISHERIES)
def test_on_a_day_when_nothing_is_open_the_place_does_not_matter(name):
    """March 15, or July 10 for area 2: outside each season, wherever the vessel is."""
    day = date(2025, 7, 10) if name == "small-mesh-2" else date(2025, 3, 15)
    for position in (None, at((42, 0), (69, 45)), at((43, 30), (69, 50)), at((10, 0), (10, 0))):
        verdict = judge(None, rulebook.load(name), day, Trip(day, position))
        assert verdict.finding("area").outcome == "fail"
        assert verdict.finding("area").measured is None


# Closures: 648.81(d) and (e), named by 648.80(a)(15) -----------------------------

CLOSED = [
    # Cashes Ledge: between CL1 and CL5, and its corners CL2 and CL6.
    (at((42, 55), (69, 10)), True),
    (at((42, 49.5), (68, 46)), True),
    (at((42, 49.5), (69, 26)), True),
    (at((42, 49.5), (69, 26.2)), False),
    (at((42, 42.4), (69, 17.5)), False),
    # Western Gulf of Maine: 42 15 to 43 15 N, 69 55 to 70 15 W.
    (at((42, 45), (70, 5)), True),
    (at((42, 15), (70, 15)), True),
    (at((42, 14.9), (70, 5)), False),
    (at((43, 15.1), (70, 5)), False),
    (at((42, 45), (69, 54.9)), False),
    (at((42, 45), (70, 15.1)), False),
]


@pytest.mark.parametrize(("position", "closed"), CLOSED)
def test_the_whiting_fishery_does_not_apply_inside_the_closures(position, closed):
    found = outcome("whiting", "closures", position=position)
    assert found == ("fail" if closed else "pass")
    clause = rulebook.load("whiting", "1").requirement("closures").clause
    assert clause == "50 CFR 648.80(a)(15) and 648.81(d) and (e)"


def test_without_a_position_the_closures_are_open_questions():
    assert outcome("whiting", "closures", day=date(2025, 10, 1)) == "not measured"


def test_how_the_closures_lie_to_the_fisheries():
    """
    From the corners alone: the whiting area and area 1 keep clear of both closures, area 2
    and the grate fishery's area each share a side with the Western Gulf of Maine's.
    """
    from shapely.geometry import LineString, Polygon

    def polygon(area):
        return Polygon([(longitude, latitude) for _, latitude, longitude in area.corners])

    cashes, western = map(polygon, rulebook.load("whiting", "1").requirement("closures").limit)
    for name in FISHERIES:
        for area in rulebook.load(name).requirement("area").limit:
            assert polygon(area).intersection(western).area < 1e-9
            assert polygon(area).disjoint(cashes)
    assert polygon(rulebook.load("whiting", "1").requirement("area").limit[0]).disjoint(western)
    assert polygon(rulebook.load("small-mesh-1", "1").requirement("area").limit[0]).disjoint(
        western
    )

    small = rulebook.load("small-mesh-2", "1").requirement("area")
    corners = {name: (longitude, latitude) for name, latitude, longitude in small.limit[0].corners}
    side = LineString([corners["SM17"], corners["SM13"]])
    assert side.difference(western.exterior.buffer(1e-9)).is_empty
    assert "SM17 to SM13" in small.caution
    grate = rulebook.load("grate", "1").requirement("area")
    corners = {name: (longitude, latitude) for name, latitude, longitude in grate.limit[0].corners}
    shared = LineString([(-70.25, 43.25), corners["GRF2"]])
    assert shared.difference(western.exterior.buffer(1e-9)).is_empty
    assert shared.difference(polygon(grate.limit[0]).exterior.buffer(1e-9)).is_empty
    assert "70 15 W to GRF2" in grate.caution


# The letter: (a)(15)(i)(A) --------------------------------------------------------


def test_letter_must_be_on_board():
    assert outcome("whiting", "letter_aboard", letter_aboard=True) == "pass"
    assert outcome("whiting", "letter_aboard", letter_aboard=False) == "fail"
    assert outcome("whiting", "letter_aboard") == "not measured"


@pytest.mark.parametrize(
    ("asked", "expected"),
    [((9, 30), "pass"), ((10, 1), "fail"), ((10, 2), "fail"), ((8, 1), "pass"), (None, None)],
)
def test_a_letter_holds_from_the_day_after_it_is_asked_for(asked, expected):
    trip = {"day": date(2025, 10, 1), "letter_asked": asked and date(2025, *asked)}
    assert outcome("whiting", "letter_day", **trip) == (expected or "not measured")
    requirement = rulebook.load("whiting", "1").requirement("letter_day")
    assert requirement.clause == "50 CFR 648.80(a)(15)(i)(A)"


def test_enrolled_for_at_least_seven_days_is_said_with_the_letter():
    assert "at least 7 days" in rulebook.load("whiting", "1").requirement("letter_aboard").caution


# Hake: 648.86(d)(1), (a)(16)(i)(C) -------------------------------------------------


@pytest.mark.parametrize(
    ("pounds", "expected"),
    [(7499.9, "pass"), (7500, "pass"), (3402 / POUND, "pass"), (7500.2, "fail")],
)
def test_hake_limit(pounds, expected):
    """(a)(16)(i)(C): 7,500 lb, given as 3,402 kg."""
    assert outcome("grate", "hake_weight", hake=pounds * 0.45359237) == expected
    requirement = rulebook.load("grate", "1").requirement("hake_weight")
    assert requirement.limit == pytest.approx(3402, abs=0.5)
    assert requirement.clause == "50 CFR 648.80(a)(16)(i)(C)"


BY_MESH = [
    # inches, silver and offshore hake together, red hake: pounds, by 648.86(d)(1)
    (2.0, 3500, 3000),
    (2.4375, 3500, 3000),
    (2.5, 7500, 3000),
    (2.9375, 7500, 3000),
    (3.0, 30000, 3000),
    (5.5, 30000, 3000),
]
KILOGRAMS = {3000: 1361, 3500: 1588, 7500: 3402, 30000: 13608}  # as printed beside the pounds


@pytest.mark.parametrize("name", FISHERIES)
@pytest.mark.parametrize(("mesh", "silver", "red"), BY_MESH)
def test_hake_goes_by_the_smallest_mesh_on_board(name, mesh, silver, red):
    for key, field, limit in (
        ("hake_by_mesh", "hake", silver),
        ("red_hake_by_mesh", "red_hake", red),
    ):
        for weight, expected in (
            (limit * POUND, "pass"),
            (KILOGRAMS[limit], "pass"),
            ((limit + 2) * POUND, "fail"),
        ):
            trip = {field: weight, "smallest_mesh": mesh * INCH}
            assert outcome(name, key, **trip) == expected, (key, weight)
        requirement = rulebook.load(name).requirement(key)
        assert requirement.clause == "50 CFR 648.86(d)(1)"
        assert "(d)(4) and (5)" in requirement.caution


def test_the_figures_that_a_notice_can_set_are_said():
    """648.86(d)(4) and (5)."""
    book = rulebook.load("whiting", "1")
    red, silver = (book.requirement(key).caution for key in ("red_hake_by_mesh", "hake_by_mesh"))
    assert "400 lb" in red
    assert "1,500 lb" in red
    assert "45 percent" in red
    assert "2,000 lb" in silver


def test_the_most_hake_is_for_some_waters_only():
    told = rulebook.load("whiting", "1").requirement("hake_by_mesh").allowed_text
    assert "30,000 lb" in told
    assert told.endswith("in the Gulf of Maine and Georges Bank exemption areas")


@pytest.mark.parametrize(
    ("pounds", "in_use", "expected"),
    [
        (3500, None, "pass"),  # under the strictest
        (3501, None, "not measured"),
        (30000, None, "not measured"),
        (30001, None, "fail"),  # over the most generous
        # The codend in use says no mesh on board is larger than the smallest.
        (3501, 2.5, "not measured"),
        (7501, 2.5, "fail"),
        (3501, 2.25, "fail"),
        (3500, 2.25, "pass"),
        (7501, 3.5, "not measured"),
    ],
)
def test_without_the_smallest_mesh_it_is_judged_by_the_least_and_the_most(pounds, in_use, expected):
    trip = {"hake": pounds * POUND, "mesh_in_use": in_use and in_use * INCH}
    assert outcome("small-mesh-1", "hake_by_mesh", **trip) == expected


def test_a_smaller_mesh_in_use_counts_before_the_one_named_as_smallest():
    trip = {"hake": 5000 * POUND, "smallest_mesh": 3 * INCH, "mesh_in_use": 2.25 * INCH}
    assert outcome("whiting", "hake_by_mesh", **trip) == "fail"


def test_larger_mesh_does_not_raise_the_grate_fisherys_cap():
    trip = {"hake": 8000 * POUND, "smallest_mesh": 3 * INCH}
    assert outcome("grate", "hake_by_mesh", **trip) == "pass"
    assert outcome("grate", "hake_weight", **trip) == "fail"


@pytest.mark.parametrize(
    ("kept", "expected"),
    [
        ((), "pass"),
        (("scup", "squid"), "pass"),
        (("whiting",), "not measured"),
        (("hake",), "not measured"),
        (("something",), "not measured"),
    ],
)
def test_no_hake_among_what_is_kept_is_no_weight_of_hake(kept, expected):
    assert outcome("whiting", "hake_by_mesh", kept=kept) == expected


def test_red_hake_kept_is_no_weight_of_silver_hake():
    assert outcome("whiting", "hake_by_mesh", kept=("red hake",)) == "pass"
    assert outcome("whiting", "red_hake_by_mesh", kept=("red hake",)) == "not measured"


# The bycatch standard: (a)(8)(i) ------------------------------------------------------


@pytest.mark.parametrize(
    ("regulated", "expected"), [(49.9, "pass"), (50.0, "fail"), (50.1, "fail")]
)
def test_regulated_species_stay_under_five_percent(regulated, expected):
    """(a)(8)(i): under 5 percent of the total catch by weight."""
    assert outcome("whiting", "bycatch_share", regulated=regulated, caught=1000.0) == expected


def test_a_share_just_under_the_standard_is_not_said_to_be_at_it():
    book = rulebook.load("whiting", "1")
    finding = judge(None, book, trip=Trip(regulated=49.999, caught=1000)).finding("bycatch_share")
    assert finding.sentence.startswith("Just under 5 percent of this catch is regulated species")


def test_no_share_without_a_catch():
    assert outcome("whiting", "bycatch_share", regulated=0.0, caught=0.0) == "not measured"


@pytest.mark.parametrize("name", FISHERIES)
def test_no_trip_breaks_a_rule_by_its_bycatch(name):
    """It is what the regulator weighs for a fishery: a warning sign, never a breach."""
    trip = Trip(date(2025, 10, 1), regulated=900.0, caught=1000.0)
    verdict = judge(None, rulebook.load(name), trip=trip)
    (finding,) = verdict.warnings
    assert (finding.key, finding.outcome) == ("bycatch_share", "fail")
    assert finding.clause == "50 CFR 648.80(a)(8)(i)"
    assert not finding.requirement.binds
    for told in (verdict.failed, verdict.passed, verdict.not_measured, verdict.customs):
        assert finding not in told
    assert "bycatch_share" not in verdict.failed_keys


# What may be kept: (a)(9)(i)(A), (a)(15)(i)(B), (a)(16)(i)(A) ----------------------------

HAKE_AND_FOUR = (
    *("silver hake", "offshore hake", "red hake"),
    *("butterfish", "Atlantic mackerel", "squid", "Atlantic herring"),
)
KEPT = {
    "whiting": ("(a)(15)(i)(B)", (*HAKE_AND_FOUR, "scup", "spiny dogfish")),
    "grate": ("(a)(16)(i)(A)", (*HAKE_AND_FOUR, "alewife")),
    "small-mesh-1": ("(a)(9)(i)(A)", (*HAKE_AND_FOUR, "scup", "spiny dogfish")),
    "small-mesh-2": ("(a)(9)(i)(A)", (*HAKE_AND_FOUR, "scup", "spiny dogfish")),
}
NOT_KEPT = (
    "cod",
    "haddock",
    "lobster",
    "yellowtail flounder",
    "monkfish",
    "white hake",
    "bluefish",
)


def kept(name, *kinds):
    return outcome(name, "kept_species", kept=kinds)


@pytest.mark.parametrize("name", FISHERIES)
def test_the_list_of_what_may_be_kept_is_closed(name):
    clause, listed = KEPT[name]
    requirement = rulebook.load(name).requirement("kept_species")
    assert requirement.clause == f"50 CFR 648.80{clause}"
    assert set(requirement.limit) == set(listed)
    for kind in listed:
        assert kept(name, kind) == kept(name, kind.upper()) == "pass", kind
    for kind in NOT_KEPT:
        assert kept(name, kind) == "fail", kind
    assert kept(name) == "pass"


def test_what_one_fishery_lets_keep_and_another_does_not():
    assert kept("grate", "scup") == kept("grate", "spiny dogfish") == "fail"
    assert kept("whiting", "alewife") == kept("small-mesh-1", "alewife") == "fail"


@pytest.mark.parametrize("name", FISHERIES)
def test_every_name_of_a_list_is_in_the_table_of_names(name):
    for kind in rulebook.load(name).requirement("kept_species").limit:
        assert kinds(kind), kind


@pytest.mark.parametrize(
    "said",
    ["whiting", "Whiting", "silver hakes", "ling", "mackerel", "Atlantic mackerel", "longfin squid"]
    + ["Illex", "loligo", "sea herring", "porgy", "scups", "dollarfish", "cape shark"],
)
def test_names_as_people_say_them(said):
    assert kept("whiting", said) == "pass"


@pytest.mark.parametrize("said", ["hake", "herring", "dogfish"])
def test_a_name_that_can_mean_two_kinds_is_asked_after(said):
    assert kept("whiting", said) == "not measured"


def test_a_name_that_can_mean_kinds_of_one_sort_alone_needs_no_question():
    assert kept("whiting", "squid") == "pass"
    assert kept("whiting", "flounder") == kept("whiting", "skate") == "fail"
    assert kept("whiting", "river herring") == "fail"
    assert kept("grate", "river herring") == "not measured"


@pytest.mark.parametrize("said", ["greenfin wobbler", "whitin", "codling", "silver", "squid?"])
def test_a_name_nobody_knows_is_asked_after_and_condemns_nothing(said):
    assert kept("whiting", said) == "not measured"


def test_what_is_certain_counts_beside_what_is_not():
    book = rulebook.load("whiting", "1")
    verdict = judge(None, book, trip=Trip(kept=("squid", "lobster", "greenfin wobbler")))
    finding = verdict.finding("kept_species")
    assert (finding.outcome, finding.places) == ("fail", ("lobster",))


def test_gear_is_judged_with_the_trip_only_when_there_is_one():
    book = rulebook.load("whiting", "1")
    assert book.gear == ("no-sweep", "chain-sweep")
    assert judge(None, book).findings == ()
