"""One answer a fishery: its own rules and those for gear, with what is not known left open."""

from datetime import date

import pytest

from rigs.rules import openings, rulebook
from rigs.rules.openings import Rigged
from rigs.words.gear import SQUARE, Codend, Sweep
from rigs.words.trip import Position, Trip
from rigs.words.units import FOOT, INCH, POUND
from tests.rigs.rig_factory import make_rig

NO_SWEEP = rulebook.load("no-sweep", "1")
WHITING = rulebook.load("whiting", "1")
GRATE = rulebook.load("grate", "1")
OCTOBER = date(2025, 10, 1)
EAST = Position(42.0, -69.75)
FULL = Trip(
    OCTOBER,
    EAST,
    True,
    ("silver hake", "squid"),
    900 * POUND,
    10.0,
    1000.0,
    letter_asked=date(2025, 9, 1),
)
CODEND = Codend(2.5 * INCH, 100)


def test_the_fisheries_are_those_with_an_area():
    names = [book.name for book in openings.fisheries()]
    assert {"grate", "small-mesh-1", "small-mesh-2", "whiting"} <= set(names)
    assert names == [name for name in rulebook.names() if rulebook.load(name).has("area")]
    assert {book.name for book in openings.fisheries(OCTOBER)} <= set(names)
    gear = {book.name for book in openings.gear_books()}
    assert {"no-sweep", "chain-sweep"} <= gear
    assert gear == {name for book in rulebook.everything() for name in book.gear}


def test_on_a_day_before_the_rule_sets_there_is_none():
    early = Trip(date(1999, 10, 1))
    assert openings.fisheries(early.day) == openings.answers(early) == ()
    with pytest.raises(ValueError, match="has no version for October 1, 1999"):
        openings.answer(WHITING, early)


def test_species_are_those_of_the_rule_sets():
    """(a)(15)(i)(B): hake of three kinds, and incidentally six more; (a)(16)(i)(A): alewife."""
    listed = [set(book.requirement("kept_species").limit) for book in (WHITING, GRATE)]
    assert len(listed[0]) == 9
    assert len(listed[0] | listed[1]) == 10
    every = [book for book in rulebook.everything() if book.has("kept_species")]
    assert set(openings.species()) == {
        name for book in every for name in book.requirement("kept_species").limit
    }


def test_all_known_and_all_inside():
    rig = make_rig(NO_SWEEP)
    found = openings.answer(WHITING, FULL, Rigged(rig, codend=CODEND, vessel_length=70 * FOOT))
    assert (found.failed, found.unknown) == ((), ())
    assert found.rulebook is WHITING
    assert found.gear.rulebook is NO_SWEEP
    assert [part.standing.inside for part in found.parts] == [True, True]
    assert found.on_the_line == ()


def test_nothing_but_the_day_leaves_everything_else_open():
    found = openings.answer(WHITING, Trip(OCTOBER))
    assert found.failed == ()
    inside = {f.key for verdict in found.verdicts for f in verdict.passed}
    assert inside == {"season"}
    gear = {f.key for f in found.gear.not_measured}
    assert gear == {rule.key for rule in NO_SWEEP.requirements if not rule.by_custom}
    assert [part.standing for part in found.parts] == [None, None]


@pytest.mark.parametrize("book", openings.fisheries(), ids=lambda book: book.name)
def test_a_rig_not_measured_breaks_no_rule_on_gear_and_keeps_none(book):
    found = openings.answer(book, Trip(OCTOBER))
    for verdict in found.verdicts:
        for finding in verdict.findings:
            if not finding.requirement.of_trip:
                assert finding.outcome == "not measured", finding.key
                assert finding.measured_text == "not measured"


def test_findings_are_grouped_by_what_they_are_about():
    found = openings.answer(GRATE, FULL)
    trip = {f.key for f in found.trip.findings}
    assert trip == {
        *("season", "area", "kept_species", "bycatch_share"),
        *("hake_weight", "hake_by_mesh", "red_hake_by_mesh"),
    }
    assert {"mesh_size", "no_sweep", "grate_stiff"} <= {f.key for f in found.rig.findings}
    assert len(found.trip.findings) + len(found.rig.findings) == len(GRATE.requirements)
    assert [f.key for f in found.trip.findings][:3] == ["season", "area", "kept_species"]
    for group in (found.trip, found.rig):
        sorted_out = group.failed + group.unknown + group.passed
        binding = [f.key for f in group.findings if f.requirement.binds]
        assert sorted(f.key for f in sorted_out) == sorted(binding)
    assert [f.key for f in found.warnings] == ["bycatch_share"]


def test_mesh_and_vessel_can_be_told_without_a_rig():
    square = Codend(2.25 * INCH, 90, SQUARE)
    found = openings.answer(WHITING, Trip(OCTOBER), Rigged(codend=square, vessel_length=60 * FOOT))
    # (a)(15): mesh of 2.5 in; 50 meshes, or 100 bars of square mesh, up to 60 ft of vessel.
    assert {f.key for f in found.failed} == {"mesh_size", "mesh_count_short"}
    more = openings.answer(WHITING, Trip(OCTOBER), Rigged(codend=CODEND, vessel_length=60.1 * FOOT))
    assert {f.key for f in more.fishery.passed} >= {"mesh_size", "mesh_count_long"}


def test_what_is_told_counts_before_the_rigs_own():
    rig = make_rig(NO_SWEEP).with_(codend=Codend(2 * INCH, 100), vessel_length=70 * FOOT)
    assert {f.key for f in openings.answer(WHITING, FULL, Rigged(rig)).failed} == {"mesh_size"}
    assert openings.answer(WHITING, FULL, Rigged(rig, codend=CODEND)).failed == ()


def test_the_gear_rules_go_by_the_sweep_unless_they_are_named():
    rig = make_rig(NO_SWEEP)
    swept = rig.with_(sweep=Sweep(None, None, None))
    named = [
        openings.answer(WHITING, FULL, Rigged(each, gear)).gear.rulebook.name
        for each, gear in (
            (rig, None),
            (swept, None),
            (rig, "chain-sweep"),
            (swept, "no-sweep"),
            (None, None),
            (None, "chain-sweep"),
        )
    ]
    assert named == [
        "no-sweep",
        "chain-sweep",
        "chain-sweep",
        "no-sweep",
        "no-sweep",
        "chain-sweep",
    ]
    failed = openings.answer(WHITING, FULL, Rigged(swept, "no-sweep")).failed
    assert "no_sweep" in {f.key for f in failed}


def test_a_fishery_with_gear_rules_of_its_own_takes_no_others():
    assert openings.answer(GRATE, FULL, Rigged(make_rig(NO_SWEEP), "chain-sweep")).gear is None


def test_each_thing_outside_is_a_finding_with_its_clause():
    trip = Trip(date(2025, 8, 1), Position(41, -69.75), False, ("lobster",), None, 60.0, 1000.0)
    found = openings.answer(WHITING, trip)
    assert {f.key: f.clause for f in found.failed} == {
        "letter_aboard": "50 CFR 648.80(a)(15)(i)(A)",
        "season": "50 CFR 648.80(a)(15)(i)(F)",
        "area": "50 CFR 648.80(a)(15)",
        "kept_species": "50 CFR 648.80(a)(15)(i)(B)",
    }
    (warning,) = found.warnings
    assert (warning.outcome, warning.clause) == ("fail", "50 CFR 648.80(a)(8)(i)")


def test_all_fisheries_at_once_the_least_outside_first():
    found = openings.answers(FULL)
    assert found[0].rulebook.name == "whiting"
    assert len(found) == len(openings.fisheries(FULL.day)) >= 4
    counts = [(len(each.failed), len(each.unknown)) for each in found]
    assert counts == sorted(counts)
    assert [each.rulebook.name for each in openings.answers(FULL, "grate")] == ["grate"]


def test_on_the_line_of_what_is_open():
    """The side from RF9 to RF1 is the edge of the eastern part alone."""
    areas = WHITING.requirement("area").limit
    (_, south, west), (_, north, east) = areas[1].corners[-1], areas[1].corners[0]
    place = Position((south + north) / 2, (west + east) / 2)
    early = openings.answer(WHITING, Trip(date(2025, 11, 20), place))
    late = openings.answer(WHITING, Trip(date(2025, 11, 21), place))
    assert early.on_the_line == ()
    assert [each.side.names for each in late.on_the_line] == [("RF9", "RF1")]


# When nothing is open ------------------------------------------------------------


@pytest.mark.parametrize(
    ("name", "day", "opens", "titles"),
    [
        # (a)(15)(i)(F), (a)(16), (a)(9)(i): the day after the last, and days between seasons.
        ("whiting", (2025, 8, 31), (2025, 9, 1), ["the whole area"]),
        ("whiting", (2026, 1, 1), (2026, 9, 1), ["the whole area"]),
        ("grate", (2025, 12, 1), (2026, 7, 1), ["the grate fishery's area"]),
        ("small-mesh-1", (2025, 11, 16), (2026, 7, 15), ["small mesh area 1"]),
        ("small-mesh-2", (2025, 7, 1), (2026, 1, 1), ["small mesh area 2"]),
    ],
)
def test_when_a_fishery_opens_next(name, day, opens, titles):
    found = openings.answer(rulebook.load(name), Trip(date(*day)))
    assert not found.is_open
    assert found.next_opening.day == date(*opens)
    assert [area.title for area in found.next_opening.areas] == titles
    assert found.fishery.finding("area").outcome == "fail"


def test_what_is_open_needs_no_next_opening():
    found = openings.answer(WHITING, Trip(date(2025, 12, 1)))
    assert found.is_open
    assert found.next_opening is None
    assert [part.area.title for part in found.parts if part.is_open] == ["the eastern part"]


# On the letter of another fishery: (a)(15)(i)(G) --------------------------------------


def along(name, **trip):
    trip = {"day": OCTOBER, "letter_aboard": True} | trip
    return openings.answer(rulebook.load(name), Trip(**trip))


def test_a_vessel_on_the_whiting_letter_keeps_only_what_both_fisheries_let_keep():
    """Alewife is on the list of (a)(16)(i)(A) alone, scup on that of (a)(15)(i)(B) alone."""
    for kept, on_letter, without in (
        ("alewife", {"kept_species"}, set()),
        ("scup", {"kept_species"}, {"kept_species"}),
        ("squid", set(), set()),
    ):
        assert {f.key for f in along("grate", kept=(kept,)).failed} == on_letter, kept
        alone = along("grate", kept=(kept,), letter_aboard=False)
        assert {f.key for f in alone.failed} == without, kept
        assert alone.along == ()


def test_what_both_fisheries_ask_alike_is_said_once():
    found = along("small-mesh-1", kept=("cod",), hake=40000 * POUND)
    keys = [f.key for f in found.failed]
    assert sorted(keys) == ["hake_by_mesh", "kept_species"]
    # What is left of the whiting fishery's rules there is mesh: (a)(15)(i)(B) and (D), and (g).
    assert {f.key for f in found.gone_along.findings} == {
        *("mesh_size", "mesh_count_long", "mesh_count_short"),
        *("mesh_top_clear", "mesh_not_blocked"),
    }
    assert found.along[0].rulebook.follows == "50 CFR 648.80(a)(15)(i)(G)"


def test_on_the_letter_the_larger_mesh_and_both_gears_are_asked_for():
    rig = make_rig(NO_SWEEP)
    small = Codend(2 * INCH, 100)
    trip = Trip(OCTOBER, letter_aboard=True)
    area1 = rulebook.load("small-mesh-1", "1")
    found = openings.answer(area1, trip, Rigged(rig, codend=small, vessel_length=70 * FOOT))
    assert {f.key for f in found.failed} == {"mesh_size"}
    free = Trip(OCTOBER, letter_aboard=False)
    assert (
        openings.answer(area1, free, Rigged(rig, codend=small, vessel_length=70 * FOOT)).failed
        == ()
    )
    # A grate net asks for all that the rules without a sweep do, and more.
    swept = openings.answer(GRATE, trip, Rigged(gear="chain-sweep"))
    assert {verdict.rulebook.name for verdict in swept.along} <= {"whiting", "no-sweep"}


@pytest.mark.parametrize(
    ("letter", "asked", "goes_along"),
    [
        (True, None, True),
        (True, date(2025, 9, 30), True),
        (True, OCTOBER, False),  # it holds from the day after
        (False, None, False),
        (None, None, False),
    ],
)
def test_the_rules_go_along_while_the_letter_holds(letter, asked, goes_along):
    found = along("grate", letter_aboard=letter, letter_asked=asked)
    assert bool(found.along) is goes_along


def test_days_waters_and_the_letter_itself_do_not_go_along():
    found = along("grate", position=EAST)
    assert {f.key for f in found.gone_along.findings}.isdisjoint(
        {"season", "area", "closures", "letter_aboard", "letter_day", "bycatch_share"}
    )


def test_the_whiting_fishery_itself_takes_no_other_rules_along():
    assert openings.answer(WHITING, FULL).along == ()


# Closures: 648.81(d) and (e) -------------------------------------------------------------


def test_closures_are_known_to_every_answer():
    inside = Position(42.75, -(70 + 5 / 60))
    for book in openings.fisheries():
        found = openings.answer(book, Trip(OCTOBER, inside))
        assert [each.holds for each in found.closures] == [False, True]
        assert found.closures[1].area.title == "the Western Gulf of Maine closure"
        assert "648.81" in found.closures[1].clause
        assert not any(each.holds for each in openings.answer(book, Trip(OCTOBER)).closures)


def test_too_near_a_closures_line_to_say():
    """Just south of 42 15, the southern side of the Western Gulf of Maine closure."""
    near = Position(42 + 14.98 / 60, -(70 + 5 / 60))
    found = openings.answer(WHITING, Trip(OCTOBER, near)).closures[1]
    assert found.standing.inside is False
    assert found.standing.on_the_line
    assert found.holds
