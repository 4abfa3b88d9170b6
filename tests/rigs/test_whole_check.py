"""
Sheets checked by the rule set for the gear and by that of the fishery, worked out by hand.

The figures are those of 50 CFR 648.80(a)(9), (15) and (16), 648.86(d)(1) and 648.81(d) and (e),
read in the 2015 edition. Positions were put on a chart by their corners, not taken from the site.
"""

from datetime import date

import pytest

from rigs.check import sheet, steps, whole
from rigs.check.entry import read
from rigs.rules import rulebook
from rigs.rules.rulebook import RulebookError

OCTOBER = date(2026, 10, 1)

EAST = "42 00 N 69 45 W"  # inside the eastern part, more than 5 miles from its lines
WEST = "42 05 N 70 22 W"  # inside the whole area, west of the eastern part
AWAY = "41 00 N 71 00 W"  # inside nothing
CASHES = "42 50 N 69 05 W"  # inside the Cashes Ledge closure
ON_RF1 = "42 14.05 N 70 08.8 W"  # the corner RF1 itself

SOUND = {
    "letter": "yes",
    "letter_asked": "9/15/2026",
    "vessel_length": "58 ft",
    "mesh": "2 1/2 in",
    "mesh_count": "50",
    "top_clear": "yes",
    "mesh_clear": "yes",
    "smallest_mesh": "2 1/2 in",
    "kept": "whiting, red hake, butterfish",
    "hake": "7,500 lb",
    "red_hake": "3,000 lb",
}


def checked(fishery="whiting", on=OCTOBER, position=EAST, gear="no-sweep", **changes):
    """Return the Whole on a sheet as SOUND with ``changes``, what is None left out."""
    typed = {name: text for name, text in (SOUND | changes).items() if text is not None}
    books = whole.books_on(gear, fishery, on)
    return whole.judged(read(typed).measures, books, on, position)


def mark(key, *args, **changes):
    found = {finding.key: finding for finding in checked(*args, **changes).findings}
    return found[key].sheet_mark


def words(key, *args, **changes):
    found = {finding.key: finding for finding in checked(*args, **changes).findings}
    return found[key].sheet_sentence


class TestOneRuleSet:
    def test_it_says_what_the_sheet_says(self):
        answers, gear = {"no_sweep": False}, rulebook.in_force("no-sweep", OCTOBER)
        found = whole.judged(answers, whole.books_of(gear), OCTOBER)
        assert found.findings == sheet.judged(answers, gear, OCTOBER).findings
        assert found.tally() == sheet.tally(sheet.judged(answers, gear, OCTOBER))
        assert found.legal is None

    def test_one_that_is_its_own_fishery_is_asked_for_gear_and_for_trip(self):
        grate = rulebook.in_force("grate", OCTOBER)
        alone = {each.key for each in steps.asked(whole.books_of(grate))}
        both = {each.key for each in steps.asked(whole.books_of(grate, grate))}
        assert both - alone == {
            *("season", "area", "kept_species", "hake_weight", "bycatch_share"),
            *("red_hake_by_mesh", "hake_by_mesh"),
        }
        found = whole.judged({}, whole.books_of(grate, grate), OCTOBER)
        assert found.rulebooks == (grate,)


class TestSeveralRuleSets:
    def test_what_two_ask_alike_is_there_once(self):
        # Both have the clauses on mesh: shared parts, with one limit.
        books = [rulebook.in_force(name, OCTOBER) for name in ("grate", "whiting")]
        found = whole.judged({}, books, OCTOBER)
        keys = [finding.key for finding in found.findings]
        assert keys.count("mesh_size") == keys.count("mesh_top_clear") == 1

    def test_gear_goes_with_its_fisheries_alone(self):
        titles = {name: whole.fisheries_with(name, OCTOBER) for name in ("no-sweep", "grate")}
        assert [book.name for book in titles["grate"]] == ["grate"]
        assert {book.name for book in titles["no-sweep"]} == {
            *("whiting", "small-mesh-1", "small-mesh-2")
        }
        with pytest.raises(RulebookError, match="not fished with the gear"):
            whole.books_on("grate", "whiting", OCTOBER)

    def test_a_day_without_a_version_is_said(self):
        with pytest.raises(RulebookError, match="no version for January 1, 2019"):
            whole.books_on("no-sweep", "whiting", date(2019, 1, 1))

    def test_the_fishery_adds_its_codend_and_its_last_stop(self):
        gear = whole.books_on("no-sweep", "", OCTOBER)
        both = whole.books_on("no-sweep", "whiting", OCTOBER)
        more = {step.slug for step in steps.steps(both)} - {step.slug for step in steps.steps(gear)}
        assert more == {"codend", "trip"}
        last = steps.steps(both)[-1]
        assert last.slug == "trip"
        judged_there = set(steps.judged_by(last, both))
        assert judged_there == {each.key for each in both[1].requirements if each.of_trip}


class TestWhiting:
    def test_a_sound_trip_has_nothing_outside(self):
        found = checked()
        assert not found.failed
        of_fishery = {f.key for f in found.passed}
        assert of_fishery == {
            *("mesh_size", "mesh_count_short", "mesh_top_clear", "mesh_not_blocked"),
            *("letter_aboard", "letter_day", "season", "area", "closures", "kept_species"),
            *("hake_by_mesh", "red_hake_by_mesh"),
        }

    @pytest.mark.parametrize(
        ("on", "position", "season", "area"),
        [
            (date(2026, 8, 31), EAST, "outside", "outside"),
            (date(2026, 9, 1), WEST, "inside", "inside"),
            (date(2026, 11, 20), WEST, "inside", "inside"),
            (date(2026, 11, 21), WEST, "inside", "outside"),
            (date(2026, 11, 21), EAST, "inside", "inside"),
            (date(2026, 12, 31), EAST, "inside", "inside"),
            (date(2027, 1, 1), EAST, "outside", "outside"),
            (date(2026, 10, 1), AWAY, "inside", "outside"),
        ],
    )
    def test_season_and_area(self, on, position, season, area):
        assert mark("season", on=on, position=position) == season
        assert mark("area", on=on, position=position) == area

    @pytest.mark.parametrize(
        ("asked", "outcome"),
        [
            ("9/30/2026", "inside"),
            ("10/1/2026", "outside"),
            ("10/2/2026", "outside"),
            (None, "not measured"),
        ],
    )
    def test_the_letter_holds_from_the_day_after(self, asked, outcome):
        assert mark("letter_day", letter_asked=asked) == outcome

    def test_no_letter(self):
        assert mark("letter_aboard", letter="no") == "outside"
        assert mark("letter_aboard", letter=None) == "not measured"
        assert "the clause says it has to be on board" in words("letter_aboard", letter="no")

    @pytest.mark.parametrize(
        ("vessel", "count", "key", "outcome"),
        [
            ("60 ft", "50", "mesh_count_short", "inside"),
            ("60 ft", "49", "mesh_count_short", "outside"),
            ("60 ft", "100 bars", "mesh_count_short", "inside"),
            ("61 ft", "99", "mesh_count_long", "outside"),
            ("61 ft", "100", "mesh_count_long", "inside"),
            ("61 ft", "199 bars", "mesh_count_long", "outside"),
        ],
    )
    def test_how_far_the_mesh_runs(self, vessel, count, key, outcome):
        assert mark(key, vessel_length=vessel, mesh_count=count) == outcome

    def test_the_mesh_itself(self):
        assert mark("mesh_size", mesh="2 7/16 in") == "outside"
        assert mark("mesh_size", mesh="6.35 cm") == "inside"

    @pytest.mark.parametrize(
        ("smallest", "codend", "hake", "outcome"),
        [
            ("2 1/2 in", "2 1/2 in", "7,500 lb", "inside"),
            ("2 1/2 in", "2 1/2 in", "7,501 lb", "outside"),
            ("2 1/2 in", "2 1/2 in", "3402 kg", "inside"),
            ("2 7/16 in", "2 1/2 in", "3,500 lb", "inside"),
            ("2 7/16 in", "2 1/2 in", "3,501 lb", "outside"),
            ("3 in", "3 in", "30,000 lb", "inside"),
            ("3 in", "2 1/2 in", "7,501 lb", "outside"),
            (None, "3 in", "3,500 lb", "inside"),
            (None, "3 in", "3,501 lb", "not measured"),
            (None, None, "30,001 lb", "outside"),
            ("3 in", "3 in", None, "not measured"),
        ],
    )
    def test_hake_by_the_smallest_mesh(self, smallest, codend, hake, outcome):
        assert mark("hake_by_mesh", smallest_mesh=smallest, mesh=codend, hake=hake) == outcome

    def test_red_hake_counts_by_itself(self):
        assert mark("red_hake_by_mesh", red_hake="3,001 lb") == "outside"
        said = words("red_hake_by_mesh", red_hake="1,000 lb", smallest_mesh=None, mesh=None)
        assert said.startswith("1,000 lb is kept; the clause says at most 3,000 lb.")
        assert "A notice in season can cut this limit to 400 lb." in said

    def test_nothing_kept_is_no_hake(self):
        told = {"kept": "none", "hake": None, "red_hake": None}
        assert mark("hake_by_mesh", **told) == mark("kept_species", **told) == "inside"

    @pytest.mark.parametrize(
        ("kept", "outcome"),
        [
            ("whiting, scup and spiny dogfish", "inside"),
            ("whiting, cod", "outside"),
            ("hake", "cannot tell"),
            ("golden trout", "cannot tell"),
            (None, "not measured"),
        ],
    )
    def test_what_is_kept(self, kept, outcome):
        assert mark("kept_species", kept=kept, hake=None, red_hake=None) == outcome

    def test_a_closure(self):
        assert mark("closures", position=CASHES) == "outside"
        assert "lies inside the Cashes Ledge closure" in words("closures", position=CASHES)


class TestThePosition:
    def test_on_a_line_nobody_can_tell(self):
        found = checked(position=ON_RF1)
        (area,) = (f for f in found.not_measured if f.key == "area")
        assert area.sheet_mark == "cannot tell"
        assert "this site cannot tell on which side it lies" in area.sheet_sentence
        assert area.places == area.missing_places == ()

    def test_missing_or_not_understood_it_is_not_measured_and_says_why(self):
        assert words("area", position="").startswith("No position is on the sheet.")
        unread = words("area", position="42 14.05")
        assert mark("area", position="42 14.05") == "not measured"
        assert "could not be read" in unread
        assert "Write it like 42 14.05 N 70 08.80 W" in unread

    def test_without_an_open_area_it_does_not_matter(self):
        for position in ("", "at sea", EAST):
            assert mark("area", on=date(2026, 8, 1), position=position) == "outside"


class TestOtherFisheries:
    @pytest.mark.parametrize(
        ("fishery", "first", "last"),
        [
            ("small-mesh-1", date(2026, 7, 15), date(2026, 11, 15)),
            ("small-mesh-2", date(2026, 1, 1), date(2026, 6, 30)),
        ],
    )
    def test_small_mesh_seasons(self, fishery, first, last):
        before, after = (
            date.fromordinal(day.toordinal() + by) for day, by in ((first, -1), (last, 1))
        )
        assert [mark("season", fishery, on=on) for on in (before, first, last, after)] == [
            *("outside", "inside", "inside", "outside")
        ]

    def test_small_mesh_areas_ask_for_no_letter_and_no_mesh_of_their_own(self):
        keys = {finding.key for finding in checked("small-mesh-1").findings}
        assert not keys & {"letter_aboard", "letter_day", "mesh_size", "closures"}
        assert {"season", "area", "kept_species", "hake_by_mesh", "red_hake_by_mesh"} <= keys

    def test_the_grate_fishery(self):
        told = {"fishery": "grate", "gear": "grate", "position": "43 40 N 69 40 W"}
        assert mark("area", **told) == "inside"
        assert mark("season", **told, on=date(2026, 6, 30)) == "outside"
        assert mark("season", **told, on=date(2026, 7, 1)) == "inside"
        assert mark("kept_species", **told, kept="ling, alewife", hake=None) == "inside"
        assert mark("kept_species", **told, kept="ling, scup", hake=None) == "outside"
        # Larger mesh does not raise it: (a)(16)(i)(C).
        heavy = {"hake": "7,501 lb", "smallest_mesh": "3 in", "mesh": "3 in"}
        assert mark("hake_weight", **told, **heavy) == "outside"
        assert mark("hake_by_mesh", **told, **heavy) == "inside"


class TestTheBycatchStandard:
    def test_is_a_warning_sign_and_in_no_tally(self):
        without = checked()
        over = checked(regulated="60 lb", caught="1,000 lb")
        (warning,) = over.warnings
        assert warning.sheet_mark == "a warning sign"
        assert "6 percent of this catch" in warning.sheet_sentence
        assert "no trip breaks a rule by it" in warning.sheet_sentence
        assert over.tally() == without.tally()
        assert warning not in (*over.failed, *over.passed, *over.not_measured)


class TestEntries:
    @pytest.mark.parametrize(
        ("name", "text"),
        [
            ("letter_asked", "yesterday"),
            ("letter_asked", "2/29/2026"),
            ("hake", "some"),
            ("hake", "900,000 lb"),
            ("kept", ", ,"),
            ("kept", "none, cod"),
        ],
    )
    def test_what_cannot_be_read_is_said(self, name, text):
        told = read({name: text})
        assert name in told.unread
        assert name not in told.measures

    def test_two_answers_that_cannot_both_be_right_do_not_count(self):
        told = read(SOUND | {"kept": "butterfish"})
        assert set(told.unread) == {"hake", "red_hake"}
        assert not told.measures.keys() & {"kept", "hake", "red_hake"}
        more = read({"regulated": "20 lb", "caught": "10 lb"})
        assert set(more.unread) == {"caught"}
        assert not more.measures
