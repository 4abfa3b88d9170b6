"""What is said behind the findings of a sheet, beside what was measured."""

import pytest

from rigs.check import log, remarks, sheet
from rigs.check.entry import read
from rigs.check.steps import QUESTIONS
from rigs.requirements.questions import TOLD
from rigs.rules import rulebook
from rigs.words.units import INCH

BOOK = rulebook.load("no-sweep", "1")
SPACING = BOOK.requirement("dropper_spacing").limit
STRUCK = "2026-11-25T07:45:00-05:00"


def judge(answers):
    return sheet.judged(answers, BOOK).findings


def said(key, *entries, **reasons):
    """Return what is said behind the finding ``key`` of a sheet with these ``entries``."""
    noted = remarks.noted(log.counted(entries), entries, reasons, judge)
    found = next(each for each in judge(noted.read.measures) if each.key == key)
    return remarks.remark(found, noted)


def entries(*pairs, **more):
    return [log.Logged(str(at), name, text, **more) for at, (name, text) in enumerate(pairs)]


def inches(metres):
    return f"{metres / INCH:g} in"


class TestParts:
    """A list of gaps against the length of its rope, each measured by itself."""

    WING = (("port_last", "2 ft"), ("port_gap", "8 ft, 8 ft, 8 ft"))

    @pytest.mark.parametrize("wing", ["26 ft", "25 ft 11 in", "26 ft 2 1/4 in"])
    def test_that_agree_as_well_as_tapes_do_say_nothing(self, wing):
        # Five readings of which each may be half an inch off: 2 1/2 in.
        assert not said("dropper_spacing", *entries(*self.WING, ("port_wing", wing)))

    @pytest.mark.parametrize("wing", ["25 ft 9 in", "26 ft 3 in", "34 ft"])
    def test_that_do_not_are_asked_about_with_both(self, wing):
        told = entries(*self.WING, ("port_wing", wing))
        words = (
            f"Gaps come to 26 ft, “Wing end to the corner, along the footrope” to {wing}. "
            "Measure both again."
        )
        assert said("dropper_spacing", *told) == words
        assert said("footrope_excess", *told) == words
        assert read(log.counted(told)).at_odds == {"port_gap": words, "port_wing": words}

    def test_the_widest_alone_says_only_that_the_wing_is_no_shorter(self):
        told = entries(("port_last", "2 ft"), ("port_gap", "8 ft"))
        assert not said("dropper_spacing", *told, *entries(("port_wing", "26 ft")))
        assert "come to 8 ft" in said("dropper_spacing", *told, *entries(("port_wing", "7 ft")))

    def test_without_the_stretch_at_the_wing_end_they_may_be_short(self):
        told = entries(("port_gap", "8 ft, 8 ft"), ("port_wing", "26 ft"))
        assert not said("dropper_spacing", *told)
        assert said("dropper_spacing", *entries(("port_gap", "9 ft, 9 ft"), ("port_wing", "16 ft")))

    def test_gaps_between_floats_are_the_headrope(self):
        gaps = ("float_gap", "4 ft, 4 ft, 4 ft")
        assert not said("float_spacing", *entries(gaps, ("headrope", "12 ft")))
        assert "“Headrope" in said("float_spacing", *entries(gaps, ("headrope", "13 ft")))

    def test_what_contradicts_still_counts(self):
        wide = inches(SPACING + INCH)
        told = log.counted(entries(("port_gap", f"{wide}, {wide}"), ("port_wing", "9 ft")))
        assert "dropper_spacing" in sheet.judged(read(told).measures, BOOK).failed_keys

    def test_every_part_is_of_a_length_that_is_asked(self):
        wholes = {each.part_of for each in QUESTIONS.values()} - {""}
        assert wholes == {"port_wing", "starboard_wing", "headrope"}
        assert wholes <= QUESTIONS.keys()


class TestReasons:
    def test_one_reason_is_said_of_all(self):
        why = {"port_top_wire": "too dark", "starboard_top_wire": "too dark"}
        assert said("top_leg_wire", **why) == "Why not measured: too dark."

    def test_several_say_of_what(self):
        why = {"port_top_wire": "too dark"}
        one = "Why not measured: “Top leg, thickness” (port): too dark."
        assert said("top_leg_wire", **why) == one
        two = said("top_leg_wire", **why, starboard_top_wire="on the drum")
        assert two == f"{one[:-1]}; “Top leg, thickness” (starboard): on the drum."

    def test_of_what_was_measured_none_is_said(self):
        told = entries(("port_top_wire", "3/8"), ("starboard_top_wire", "3/8"))
        assert not said("top_leg_wire", *told, port_top_wire="too dark")

    def test_outside_and_in_part_not_measured_says_why(self):
        told = entries(("port_top_wire", "1 1/2"))
        words = said("top_leg_wire", *told, starboard_top_wire="too dark")
        assert words == "Why not measured: too dark."


class TestTwoReadings:
    OVER, AT = inches(SPACING + INCH / 4), inches(SPACING)
    WORDS = "Readings of “Gaps on this wing, one by one, or the widest” (port) fall on different"

    def test_on_two_sides_of_a_limit_are_told_whichever_counts(self):
        for first, second in ((self.OVER, self.AT), (self.AT, self.OVER)):
            words = said("dropper_spacing", *entries(("port_gap", first), ("port_gap", second)))
            assert words == f"{self.WORDS} sides of the limit: {first}; {second}."

    def test_on_one_side_say_nothing(self):
        told = entries(("port_gap", self.AT), ("port_gap", "7 ft"))
        assert not said("dropper_spacing", *told)
        assert not said("dropper_spacing", *entries(("port_gap", self.AT), ("port_gap", self.AT)))

    def test_one_that_was_struck_says_nothing(self):
        first, second = entries(("port_gap", self.OVER), ("port_gap", self.AT))
        assert not said("dropper_spacing", first._replace(struck=STRUCK), second)

    def test_one_that_cannot_be_read_says_nothing(self):
        assert not said("dropper_spacing", *entries(("port_gap", "8 oz"), ("port_gap", self.OVER)))

    def test_a_list_and_the_worst_alone_that_differ_are_asked_about(self):
        gaps = ("port_gap", "7 ft, 7 ft 6 in, 7 ft")
        assert said("dropper_spacing", *entries(("port_gap", "7 ft 8 in"), gaps)) == (
            "“Gaps on this wing, one by one, or the widest” (port): 7 ft 8 in as the worst, "
            "7 ft 6 in in the list. Measure it again."
        )
        assert not said("dropper_spacing", *entries(("port_gap", "7 ft 6 3/4 in"), gaps))
        least = entries(("float_size", "9, 8, 10"), ("float_size", "8 in"))
        assert not said("float_diameter", *least)
        most = entries(("float_size", "10 in"), ("float_size", "9, 8 1/2, 9"))
        assert "10 in as the worst, 8 1/2 in in the list" in said("float_diameter", *most)

    def test_yes_and_no_differ(self):
        words = said("off_bottom", *entries(("off_bottom", "no"), ("off_bottom", "yes")))
        assert words.startswith("Answers to “Is the footrope")
        assert words.endswith("no; yes.")

    def test_it_bears_on_every_rule_that_turns_on_it_and_on_no_other(self):
        told = entries(("port_gap", self.OVER), ("port_gap", self.AT))
        assert not said("footrope_excess", *told)

    def test_one_unlikely_is_weighed_as_if_it_were_right(self):
        told = entries(("port_gap", "70 ft"), ("port_gap", self.AT))
        assert self.WORDS in said("dropper_spacing", *told)


def test_all_that_there_is_to_say_is_said_in_one_breath():
    told = [
        log.Logged("1", "port_gap", "9 ft, 9 ft", how=TOLD),
        log.Logged("2", "port_wing", "12 ft"),
    ]
    assert said("dropper_spacing", *told, port_last="too dark") == (
        "Gaps come to 18 ft, “Wing end to the corner, along the footrope” to 12 ft. Measure both "
        "again. Said, not measured: “Gaps on this wing, one by one, or the widest” (port). Why "
        "not measured: “Wing end to the nearest dropper” (port): too dark."
    )
