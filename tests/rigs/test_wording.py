"""
What is said of a finding, in whole sentences where they are easily misread.

The figures in them are those of 50 CFR 648.80(a)(9)(ii), from memory, and of (a)(15) and
(a)(16), read in the 2015 edition; the rigs are made to lie at them or a given step past.
"""

from dataclasses import replace

import pytest

from rigs.rules import rulebook
from rigs.rules.changes import rule_differences
from rigs.rules.judge import judge
from rigs.rules.rulebook import RulebookError, parse
from rigs.rules.text import write
from rigs.words.gear import Dropper, Footrope, Headrope, Sweep
from rigs.words.units import FATHOM, FOOT, INCH
from tests.rigs.rig_factory import make_rig

NO_SWEEP, CHAIN_SWEEP, GRATE = (rulebook.load(n) for n in ("no-sweep", "chain-sweep", "grate"))
EVEN = Footrope(16 * FOOT, 16 * FOOT, 16 * FOOT)


def found(key, change=lambda rig: rig, book=NO_SWEEP, rope=EVEN):
    return judge(change(make_rig(book, footrope=rope)), book).finding(key)


def all_(part, **fields):
    return lambda rig: rig.with_(
        **{part: tuple(replace(each, **fields) for each in getattr(rig, part))}
    )


def only(part, **fields):
    return lambda rig: rig.with_(**{part: replace(getattr(rig, part), **fields)})


def headrope(shorter):
    return lambda rig: rig.with_(headrope=Headrope(rig.footrope.length - shorter))


def without(*indexes):
    def change(rig):
        gone = {index % len(rig.droppers) for index in indexes}
        return rig.with_(droppers=tuple(d for i, d in enumerate(rig.droppers) if i not in gone))

    return change


def swept(rig):
    return rig.with_(sweep=Sweep(8.0, 8.0, 5 / 16 * INCH))


@pytest.mark.parametrize(
    ("key", "book", "change", "sentence"),
    [
        ("no_sweep", NO_SWEEP, swept, "A sweep is on it; there may be none."),
        ("no_sweep", NO_SWEEP, lambda rig: rig, "No sweep is on it."),
        ("no_sweep", GRATE, swept, "A sweep is on it; there may be none."),
        (
            "footrope_longer",
            NO_SWEEP,
            headrope(-5 * FOOT),
            "The footrope is 5 ft shorter than the headrope; it has to be longer.",
        ),
        (
            "footrope_longer",
            NO_SWEEP,
            headrope(0.0),
            "The footrope is just as long as the headrope; it has to be longer.",
        ),
        (
            "footrope_longer",
            NO_SWEEP,
            headrope(5 * FOOT),
            "The footrope is 5 ft longer than the headrope.",
        ),
        (
            "footrope_excess",
            NO_SWEEP,
            headrope(21 * FOOT),
            "The footrope is 21 ft longer than the headrope; "
            "it may be at most 20 ft longer: 1 ft too long.",
        ),
        (
            "footrope_excess",
            NO_SWEEP,
            headrope(20 * FOOT),
            "The footrope is 20 ft longer than the headrope; "
            "it may be at most 20 ft longer: exactly at the limit.",
        ),
        (
            "footrope_excess",
            NO_SWEEP,
            headrope(-5 * FOOT),
            "The footrope is 5 ft shorter than the headrope; it may be at most 20 ft longer.",
        ),
        (
            "dropper_at_centre",
            NO_SWEEP,
            lambda rig: rig.with_(
                droppers=tuple(
                    replace(d, position=9 * INCH) if d.position == 0 else d for d in rig.droppers
                )
            ),
            "The nearest dropper hangs 9 in off the center; one has to hang right at the center.",
        ),
        (
            "dropper_at_centre",
            NO_SWEEP,
            lambda rig: rig.with_(droppers=()),
            "No dropper hangs on the footrope; one has to hang right at the center.",
        ),
        ("dropper_at_centre", NO_SWEEP, lambda rig: rig, "A dropper hangs right at the center."),
        (
            "dropper_at_corners",
            NO_SWEEP,
            without(2),
            "The nearest dropper hangs 8 ft off the corner; one has to hang right at each corner.",
        ),
        (
            "dropper_bare",
            NO_SWEEP,
            all_("droppers", bare=False),
            "A dropper has something on it; every dropper has to be bare chain.",
        ),
        (
            "dropper_bare",
            NO_SWEEP,
            all_("droppers", bare=None),
            "Not looked at; every dropper has to be bare chain.",
        ),
        (
            "dropper_length",
            NO_SWEEP,
            all_("droppers", length=40 * INCH),
            "The shortest dropper is 40 in long; by custom at least 42 in: 2 in too short.",
        ),
        (
            "dropper_length",
            GRATE,
            all_("droppers", length=40 * INCH),
            "The shortest dropper is 40 in long; at least 42 in is needed: 2 in too short.",
        ),
        (
            "dropper_length",
            GRATE,
            all_("droppers", length=42 * INCH - 0.0001),
            "The shortest dropper is just under 42 in long; "
            "at least 42 in is needed: a little too short.",
        ),
        (
            "legs_equal",
            NO_SWEEP,
            all_("legs", bottom_length=10 * FATHOM - 8 * INCH),
            "Top and bottom legs differ by 8 in; they have to be the same length.",
        ),
        ("legs_equal", NO_SWEEP, lambda rig: rig, "Top and bottom legs are the same length."),
        (
            "door_to_wing_end",
            NO_SWEEP,
            all_("ground_cables", length=31 * FATHOM),
            "The longer side is 41 fm from door to wing end; "
            "at most 40 fm is allowed: 1 fm too long.",
        ),
        (
            "door_to_wing_end",
            NO_SWEEP,
            lambda rig: all_("ground_cables", length=41 * FATHOM)(rig.with_(legs=())),
            "The longer side is at least 41 fm from door to wing end; "
            "at most 40 fm is allowed: at least 1 fm too long. Part of it was not measured.",
        ),
        (
            "door_to_wing_end",
            NO_SWEEP,
            lambda rig: all_("ground_cables", length=35 * FATHOM)(rig.with_(legs=())),
            "Not all of it was measured. So far the longer side is at least 35 fm from door to "
            "wing end; at most 40 fm is allowed.",
        ),
        (
            "dropper_stock",
            CHAIN_SWEEP,
            all_("droppers", diameter=0.008),
            "The thickest dropper chain is 5/16 in; at most 5/16 in is allowed: "
            "exactly at the limit.",
        ),
        (
            "float_diameter",
            NO_SWEEP,
            all_("floats", diameter=0.203),
            "The smallest float is 8 in across; at least 8 in is needed: exactly at the limit.",
        ),
        (
            "sweep_excess",
            CHAIN_SWEEP,
            only("sweep", port=EVEN.length / 2, starboard=EVEN.length / 2 - 2 * FOOT),
            "The sweep is 2 ft shorter than the footrope; "
            "it has to be at least 7 ft longer: 9 ft short.",
        ),
        (
            "sweep_excess_each_side",
            CHAIN_SWEEP,
            only("sweep", port=EVEN.length / 2 + FOOT),
            "On its tighter side the sweep is 1 ft longer than the footrope; "
            "each side has to be at least 3 ft 6 in longer: 2 ft 6 in short.",
        ),
        (
            "grate_outlet",
            GRATE,
            only("grate", outlet_width=34 * INCH),
            "The outlet is 2 in narrower than the grate; "
            "it has to be at least as wide as the grate.",
        ),
        (
            "grate_position",
            GRATE,
            lambda rig: rig.with_(grate=None),
            "There is no grate; one has to be there.",
        ),
        (
            "mesh_count_long",
            GRATE,
            only("codend", counted=99),
            "The mesh measured runs for 99 meshes from the terminus; "
            "at least 100 meshes are needed: 1 mesh short.",
        ),
        (
            "float_diameter",
            NO_SWEEP,
            lambda rig: rig.with_(
                floats=(*rig.floats[:-1], replace(rig.floats[-1], diameter=None))
            ),
            "Not all of it was measured. So far the smallest float is 8 in across; "
            "at least 8 in is needed.",
        ),
    ],
)
def test_sentences(key, book, change, sentence):
    assert found(key, change, book).sentence == sentence


class TestTheLastDropper:
    """The classic slip: a wing of whole steps ends with a dropper, and that one is left off."""

    def test_one_missing_at_one_wing_end(self):
        finding = found("dropper_spacing", without(-1))
        assert finding.sentence == (
            "The starboard wing is 16 ft: two whole steps of 8 ft, so a dropper belongs at the "
            "wing end too. One dropper is missing there."
        )
        assert finding.remedy == "Hang one more dropper at the starboard wing end."
        assert finding.margin_text == "one dropper short"
        assert "the clause says one has to hang every 8 ft: one dropper short" in (
            finding.sheet_sentence
        )

    def test_the_steps_are_counted_on_each_wing_by_itself(self):
        rope = Footrope(16 * FOOT, 8 * FOOT, 24 * FOOT)
        finding = found("dropper_spacing", without(0, -1), rope=rope)
        assert "The port wing is 8 ft: one whole step of 8 ft" in finding.sentence
        assert "The starboard wing is 24 ft: three whole steps of 8 ft" in finding.sentence

    def test_both_wings_alike_are_told_once(self):
        finding = found("dropper_spacing", without(0, -1))
        assert finding.sentence.startswith("Each wing is 16 ft: two whole steps of 8 ft")
        assert finding.sentence.count("One dropper is missing there") == 1
        assert finding.remedy == "Hang one more dropper at each wing end."

    def test_a_wide_gap_is_not_told_as_a_missing_end(self):
        rope = Footrope(16 * FOOT, 16 * FOOT, 20 * FOOT)
        finding = found("dropper_spacing", without(-2), rope=rope)
        assert finding.sentence == (
            "The widest gap along the wings is 16 ft; one has to hang every 8 ft: 8 ft too wide."
        )
        assert "wing end too" not in finding.sentence
        assert "until no gap is over 8 ft" in finding.remedy

    def test_a_wide_gap_on_one_wing_and_a_missing_end_on_the_other_are_both_mended(self):
        finding = found("dropper_spacing", without(1, -1))
        assert "The widest gap along the wings is 16 ft" in finding.sentence
        assert "The starboard wing is 16 ft: two whole steps" in finding.sentence
        assert "until no gap is over 8 ft" in finding.remedy
        assert finding.remedy.endswith("Hang one more dropper at the starboard wing end.")

    def test_a_whole_step_left_on_a_wing_of_no_whole_steps(self):
        rope = Footrope(16 * FOOT, 16 * FOOT, 12 * FOOT)

        def halfway(rig):
            return rig.with_(droppers=(*rig.droppers[:-1], Dropper(12 * FOOT, 1.2, 0.008)))

        finding = found("dropper_spacing", halfway, rope=rope)
        assert finding.sentence == (
            "8 ft is left past the last dropper, a whole step: one dropper short."
        )
        assert finding.remedy == "Hang one more dropper at the starboard wing end."


class TestRemedies:
    def test_no_grate_forward_of_the_codend_may_be_no_grate_at_all(self):
        """A check sheet asks whether one is there, so that its no says nothing of another place."""
        finding = found("grate_position", only("grate", ahead_of_codend=False), GRATE)
        assert finding.sentence == "No grate sits forward of the codend; one has to be there."

    def test_no_grate_is_fitted_and_one_in_the_wrong_place_moved(self):
        none = found("grate_position", lambda rig: rig.with_(grate=None), GRATE)
        wrong = found("grate_position", only("grate", ahead_of_codend=False), GRATE)
        assert none.remedy == "Fit a grate forward of the codend."
        assert "or move it there" in wrong.remedy

    def test_where_nothing_hangs_nothing_is_moved(self):
        for key in ("dropper_at_centre", "dropper_at_corners"):
            assert "move" not in found(key, lambda rig: rig.with_(droppers=())).remedy
            assert "move it" in found(key, without(3) if "centre" in key else without(2)).remedy

    def test_goggles_come_before_the_cut(self):
        remedy = found("no_sweep", swept).remedy
        assert remedy.index("goggles") < remedy.index("cut the sweep")

    def test_the_chain_sweep_rules_are_no_way_out_where_no_sweep_of_any_kind_may_be(self):
        assert "chain-sweep rules" in found("no_sweep", swept).remedy
        assert "chain-sweep rules" not in found("no_sweep", swept, GRATE).remedy

    def test_what_is_met_or_not_measured_needs_none(self):
        assert not found("dropper_bare").remedy
        assert not found("dropper_bare", all_("droppers", bare=None)).remedy


class TestSheets:
    def test_an_officers_sheet_says_inside_and_outside(self):
        outside = found("float_diameter", all_("floats", diameter=7 * INCH))
        assert (outside.mark, outside.sheet_mark) == ("broken", "outside")
        assert outside.sheet_sentence == (
            "The smallest float is 7 in across; the clause says at least 8 in: 1 in too small."
        )
        inside = found("no_sweep")
        assert (inside.mark, inside.sheet_mark) == ("met", "inside")
        assert inside.sheet_sentence == "No sweep is on it, as the clause asks."

    def test_a_custom_is_told_as_one_on_both(self):
        off = found("dropper_length", all_("droppers", length=40 * INCH))
        assert off.mark == off.sheet_mark == "not as is the custom"
        assert "clause" not in off.sheet_sentence
        assert off.source == "By custom; no clause asks for it."

    def test_a_limit_from_memory_is_marked(self):
        assert found("float_diameter").source == "50 CFR 648.80(a)(9)(ii)(A) *"
        assert found("no_sweep", book=GRATE).source == "50 CFR 648.80(a)(16)(ii)(B)"


TEXT = """
name: made
version: "1"
title: Made up
summary: Made up.
citation: made up
effective:
  from: 2020-01-01
requirements:
  - key: dropper_bare
    title: Bare
    test: must be
    limit: true
    clause: made up
    known: memory
    why: Because.
    remedy: Take it off.
    words:
      met: all are bare
      broken: one is not
      asks: all have to be
"""


class TestPhrasesInRuleSets:
    @pytest.mark.parametrize(
        ("old", "new", "words"),
        [
            ("      asks: all have to be\n", "", "has to say “asks”"),
            ("met: all are bare", "so: all are bare", "unknown key “so”"),
            ("met: all are bare", "met: '{found} are bare'", "has no {found} to fill in"),
            ("asks: all have to be", "asks: all {allowed have to be", "brace"),
        ],
    )
    def test_what_cannot_be_said_is_refused(self, old, new, words):
        assert parse(TEXT, "made").requirement("dropper_bare").phrase("met") == "all are bare"
        with pytest.raises(RulebookError, match=words):
            parse(TEXT.replace(old, new), "made")

    def test_they_are_written_back_and_their_changes_told(self):
        for book in (NO_SWEEP, CHAIN_SWEEP, GRATE):
            assert parse(write(book), "written") == book
        old = parse(TEXT, "made")
        new = parse(TEXT.replace("one is not", "one has a cookie on it"), "made")
        ((_, sort, (row,)),) = rule_differences(old, new)
        assert sort == "reworded"
        assert row == (
            "Words",
            ("broken: one is not",),
            ("broken: one has a cookie on it",),
        )

    def test_a_part_taken_over_names_the_clause_that_takes_it_over(self):
        assert GRATE.requirement("float_spacing").clause == (
            "50 CFR 648.80(a)(16)(ii)(A), which takes over (a)(9)(ii)(A)"
        )
        assert NO_SWEEP.requirement("float_spacing").clause == "50 CFR 648.80(a)(9)(ii)(A)"
