"""The log of a sheet's readings: nothing is lost, and the last that holds is what counts."""

from datetime import datetime

import pytest

from rigs.check import log, sheet
from rigs.check.log import Logged
from rigs.check.steps import QUESTIONS
from rigs.check.told import rests_on, told_words
from rigs.requirements.questions import MEASURED, TELLERS, TOLD, TOOLS
from rigs.rules import rulebook
from rigs.words.days import clock
from rigs.words.units import FATHOM, INCH

AT = "2026-11-25T07:30:00-05:00"
LATER = "2026-11-25T07:45:00-05:00"


def entry(id, name="port_gap", text="8 ft", **more):
    return Logged(id, name, text, at=AT, **more)


class TestParsing:
    def test_what_a_phone_sends_is_taken_in(self):
        sent = {"id": "a1", "name": "port_gap", "text": "8 ft", "how": "measured", "at": AT}
        assert log.parse([sent]) == (Logged("a1", "port_gap", "8 ft", "measured", "", AT),)

    def test_what_a_later_page_asks_is_not_lost(self):
        sent = {"id": "a1", "name": "not_asked_yet", "text": "8 ft", "tool": "laser"}
        assert log.parse([sent])[0].name == "not_asked_yet"

    @pytest.mark.parametrize(
        ("sent", "words"),
        [
            ({}, "no list"),
            ([1], "not as a phone"),
            ([{"id": "a", "name": ""}], "what it is of"),
            ([{"id": "a", "name": "sweep", "text": 8}], "no text"),
            ([{"id": "a", "name": "sweep", "how": "guessed"}], "guessed"),
            ([{"id": "a", "name": "sweep", "at": "07:30"}], "07:30"),
            ([{"id": "a", "name": "sweep", "struck": "2026-11-25T07:30:00"}], "no time"),
            ([{"id": "a", "name": "sweep"}] * 2, "same number"),
        ],
    )
    def test_what_is_no_log_is_refused_in_words(self, sent, words):
        with pytest.raises(ValueError, match=words):
            log.parse(sent)


class TestCounting:
    def test_the_last_that_is_not_struck_counts(self):
        first, second = entry("a"), entry("b", text="8 ft 1 in")
        assert log.counted([first, second]) == {"port_gap": "8 ft 1 in"}
        assert log.counted([first, second._replace(struck=LATER)]) == {"port_gap": "8 ft"}
        assert log.counted([first._replace(struck=LATER)]) == {}

    def test_a_second_reading_that_was_not_written_yet_hides_nothing(self):
        assert log.counted([entry("a"), entry("b", text=" ")]) == {"port_gap": "8 ft"}

    def test_what_counts_says_whether_it_was_told(self):
        said = entry("a", how=TOLD)
        assert log.told([said]) == {"port_gap"}
        assert log.told([said, entry("b", how=MEASURED)]) == frozenset()
        assert log.told([entry("b"), said._replace(struck=LATER)]) == frozenset()


def test_readings_of_one_question_are_in_the_order_in_which_they_were_taken():
    all_of_them = [entry("a"), entry("b", "bosom"), entry("c")]
    assert [each.id for each in log.of("port_gap", all_of_them)] == ["a", "c"]


class TestWorkedOut:
    @pytest.mark.parametrize(
        ("name", "text", "words"),
        [
            ("port_gap", "8 ft 2 in", ""),
            ("port_gap", "8 FT  2 IN", ""),
            ("port_gap", "", ""),
            ("port_gap", "8-2", "8-2 = 8 ft 2 in"),
            ("port_gap", "8", "8 = 8 ft"),
            ("port_cable", "12 fm 3 ft", "12 fm 3 ft = 12.5 fm"),
            ("sweep", "yes", ""),
            ("mesh_count", "100", ""),
            ("mesh_count", "201 bars", "201 bars = 100.5 meshes"),
            # NACM, from memory: 3/8 in proof coil chain has links of 1.38 in inside.
            ("dropper_length", "30 links of 3/8 in", "30 links of 3/8 in = 41 3/8 in"),
            ("dropper_length", "30 links", "30 links = 41 3/8 in, of 3/8 in chain"),
            ("nobody asks", "8", ""),
        ],
    )
    def test_says_what_a_reading_comes_to(self, name, text, words):
        assert log.worked_out(entry("a", name, text), {"dropper_chain": "3/8"}) == words

    def test_says_why_what_cannot_be_read_does_not_count(self):
        words = log.worked_out(entry("a", text="8 furlongs"), {})
        assert words.startswith("8 furlongs: not counted. “furlongs” in “8 furlongs” is not")

    def test_of_a_row_it_is_the_average(self):
        row = ", ".join(["2 1/2"] * 10 + ["2 3/8"] * 10)
        assert log.worked_out(entry("a", "mesh", row), {}).endswith("= 2 7/16 in on average")
        assert "2 of 20 readings" in log.worked_out(entry("a", "mesh", "2 1/2, 2 1/2"), {})


class TestHow:
    @pytest.mark.parametrize(
        ("how", "tool", "words"),
        [
            ("", "", ""),
            (MEASURED, "", "measured"),
            (MEASURED, "tape", "measured, tape"),
            ("", "tape", "tape"),
            (TOLD, "", "said by somebody"),
            (TOLD, "skipper", "said by the skipper"),
            (TOLD, "documents", "said by somebody, documents of the vessel"),
        ],
    )
    def test_is_said_in_words(self, how, tool, words):
        assert log.how_words(entry("a", how=how, tool=tool)) == words

    def test_each_length_has_its_tools(self):
        assert not TOOLS.keys() & TELLERS.keys()
        for question in QUESTIONS.values():
            assert set(question.tools) <= TOOLS.keys()
        assert QUESTIONS["dropper_length"].tools == ("tape", "links")
        assert not QUESTIONS["sweep"].tools


@pytest.mark.parametrize(
    ("hour", "words"),
    [(0, "12:05 a.m."), (11, "11:05 a.m."), (12, "12:05 p.m."), (23, "11:05 p.m.")],
)
def test_a_time_of_day_is_said_as_on_a_clock(hour, words):
    assert clock(datetime(2026, 11, 25, hour, 5)) == words


class TestToldApart:
    """Wires of which one side was told and the other measured."""

    BOOK = rulebook.load("no-sweep", "1")
    LIMIT = BOOK.requirement("top_leg_wire").limit

    def finding(self, port, starboard):
        answers = {"port_top_wire": port, "starboard_top_wire": starboard}
        return sheet.judged(answers, self.BOOK).finding("top_leg_wire")

    def test_what_is_inside_rests_on_both(self):
        inside = self.finding(self.LIMIT, self.LIMIT)
        assert [q.name for q in rests_on(inside, {"port_top_wire"})] == ["port_top_wire"]
        assert told_words(inside, {"port_top_wire"}) == (
            "Said, not measured: “Top leg, thickness” (port)."
        )
        assert not rests_on(inside, ())
        assert not rests_on(inside, {"port_bottom_wire"})

    def test_what_is_outside_where_it_was_measured_rests_on_that(self):
        outside = self.finding(self.LIMIT, self.LIMIT + INCH)
        assert not rests_on(outside, {"port_top_wire"})
        assert rests_on(outside, {"starboard_top_wire"})
        both = self.finding(self.LIMIT + INCH, self.LIMIT + INCH)
        assert not rests_on(both, {"port_top_wire"})
        assert len(rests_on(both, {"port_top_wire", "starboard_top_wire"})) == 2

    def test_what_nobody_measured_rests_on_nothing(self):
        assert not rests_on(self.finding(self.LIMIT, None), {"port_top_wire"})

    def test_that_there_is_none_can_be_told(self):
        verdict = sheet.judged({"droppers": False}, self.BOOK)
        assert told_words(verdict.finding("dropper_at_centre"), {"droppers"}) == (
            "Said, not measured: “Do droppers hang from the footrope?”."
        )

    def test_the_tally_counts_what_rests_on_it_and_says_so_if_anything_does(self):
        answers = {"port_cable": 10 * FATHOM, "droppers": False}
        verdict = sheet.judged(answers, self.BOOK)
        assert sheet.tally(verdict).told == 0
        assert "said" not in str(sheet.tally(verdict))
        told = sheet.tally(verdict, {"droppers"})
        by_hand = [f for f in verdict.failed + verdict.passed if f.measured is None]
        assert told.told == len(by_hand) > 1
        assert str(told).endswith(f"; {len(by_hand)} by what somebody said")
