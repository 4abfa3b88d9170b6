"""The check sheet's domain: what is asked, how it is read and how it is judged."""

import random
from dataclasses import replace

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from rigs import requirements
from rigs.check import sheet, written
from rigs.check.entry import read, read_one
from rigs.check.steps import QUESTIONS, STEPS, asked, judged_by, steps
from rigs.make import faults, sample
from rigs.physics.chain import STOCKS
from rigs.rules import rulebook
from rigs.rules.judge import NOT_MEASURED, PASS, judge
from rigs.words.units import FOOT, INCH, UnitError
from tests.rigs.rig_factory import gear_books, make_rig

GEAR = [rulebook.load(name) for name in rulebook.gear_names()]
seeds = st.integers(0, 2**32)
difficulties = st.sampled_from([1, 2, 3])


def outcomes(verdict, book):
    told = {requirement.key for requirement in asked(book)}
    return {f.key: f.outcome for f in verdict.findings if f.key in told}


class TestSteps:
    @pytest.mark.parametrize("book", GEAR, ids=lambda book: book.name)
    def test_every_requirement_of_gear_has_a_step(self, book):
        judged = {key for step in steps(book) for key in judged_by(step, book)}
        assert judged == {requirement.key for requirement in asked(book)}

    def test_every_way_of_measuring_gear_is_read_off_the_sheet(self):
        for each in requirements.all():
            assert bool(each.sheet and each.sheet.totals) is not each.trip

    def test_readings_ask_only_what_the_steps_ask(self):
        told = frozenset().union(*(each.sheet.names for each in requirements.all() if each.sheet))
        assert told == set(QUESTIONS)
        assert len(QUESTIONS) == sum(len(step.questions) for step in STEPS)

    def test_go_from_one_wing_end_over_the_center_to_the_other(self):
        order = [step.slug for step in steps(rulebook.load("no-sweep", "1"))]
        walk = ["port_wing", "port_corner", "center", "starboard_corner", "starboard_wing"]
        assert [slug for slug in order if slug in walk] == walk

    def test_leave_out_what_a_rule_set_does_not_turn_on(self):
        names = {q.name for step in steps(rulebook.load("no-sweep", "1")) for q in step.questions}
        assert not names & {"sweep_chain", "lean", "mesh", "bar_gap", "vessel_length"}


class TestJudging:
    @given(seeds, gear_books, difficulties)
    def test_a_legal_rig_is_within_everywhere(self, seed, book, difficulty):
        rig = sample.legal_rig(random.Random(seed), book, difficulty)
        measures, unread, *_ = read(written.typed(rig))
        assert not unread
        verdict = sheet.judged(measures, book)
        assert verdict.legal is True
        assert sheet.tally(verdict) == (0, clauses_asked(rig, book), 0, 0)

    @given(seeds, gear_books, difficulties, st.data())
    def test_every_fault_is_found_and_no_other(self, seed, book, difficulty, data):
        rng = random.Random(seed)
        rig = sample.legal_rig(rng, book, difficulty)
        key = data.draw(st.sampled_from(faults.spoilable(book, rig)))
        try:
            spoilt = faults.spoil(rig, key, faults.Draw(rng, book, difficulty))
        except faults.CannotMake:
            assume(False)
        measures, unread, *_ = read(written.typed(spoilt))
        assert not unread
        assert sheet.judged(measures, book).failed_keys == {key}

    @given(seeds, gear_books, difficulties, st.data())
    def test_the_sheet_says_what_the_judge_of_the_rig_says(self, seed, book, difficulty, data):
        rng = random.Random(seed)
        rig = sample.legal_rig(rng, book, difficulty)
        for key in data.draw(st.lists(st.sampled_from(faults.spoilable(book, rig)), max_size=3)):
            try:
                rig = faults.spoil(rig, key, faults.Draw(rng, book, difficulty))
            except faults.CannotMake:
                continue
        told = sheet.judged(written.measures(rig), book)
        right = judge(rig, book)
        assert outcomes(told, book) == outcomes(right, book)
        for finding in told.findings:
            if finding.margin is not None:
                assert finding.margin == pytest.approx(right.finding(finding.key).margin, abs=1e-9)

    @pytest.mark.parametrize("book", GEAR, ids=lambda book: book.name)
    def test_an_empty_sheet_says_nothing(self, book):
        verdict = sheet.judged({}, book)
        assert {finding.outcome for finding in verdict.findings} == {NOT_MEASURED}
        assert verdict.legal is None

    @pytest.mark.parametrize("book", GEAR, ids=lambda book: book.name)
    def test_leaving_out_any_one_answer_never_finds_a_fault(self, book):
        measures = written.measures(make_rig(book))
        spare = {"droppers", "vessel_length"}
        if not book.has("no_sweep"):
            spare.add("sweep")
        for name in measures:
            left = {key: value for key, value in measures.items() if key != name}
            verdict = sheet.judged(left, book)
            assert not verdict.missed_keys
            # Whoever measured droppers or a sweep need not say that there are any, and so
            # many meshes do for a vessel of any length.
            if name in {q.name for s in steps(book) for q in s.questions} - spare:
                assert any(finding.outcome == NOT_MEASURED for finding in verdict.findings)

    def test_a_fault_is_found_though_the_rest_was_not_measured(self):
        book = rulebook.load("no-sweep", "1")
        limit = book.requirement("dropper_spacing").limit
        verdict = sheet.judged({"port_gap": limit + INCH}, book)
        assert verdict.failed_keys == {"dropper_spacing"}
        assert verdict.finding("dropper_spacing").places == ("port wing, widest gap",)

    def test_a_whole_interval_left_at_the_wing_end_is_a_dropper_short(self):
        # As for a rig: a wing of a whole number of intervals has a dropper at its end.
        book = rulebook.load("no-sweep", "1")
        limit = book.requirement("dropper_spacing").limit
        told = {f"{side}_{name}": limit for side in ("port", "starboard") for name in ("gap",)}
        within = told | {"port_last": 0.0, "starboard_last": limit - INCH}
        assert not sheet.judged(within, book).failed
        short = sheet.judged(told | {"port_last": limit, "starboard_last": 0.0}, book)
        assert short.finding("dropper_spacing").places == ("port wing end",)

    def test_without_droppers_center_and_corners_fail(self):
        verdict = sheet.judged({"droppers": False}, rulebook.load("no-sweep", "1"))
        assert verdict.failed_keys == {"dropper_at_centre", "dropper_at_corners"}

    def test_the_mesh_rule_goes_by_the_vessel(self):
        book = rulebook.load("grate", "1")
        edge = book.requirement("mesh_count_long").vessel_over
        count = book.requirement("mesh_count_short").limit
        small = sheet.judged({"vessel_length": edge, "mesh_count": count}, book)
        assert "mesh_count_short" in {f.key for f in small.passed}
        large = sheet.judged({"vessel_length": edge + FOOT, "mesh_count": count}, book)
        assert large.failed_keys == {"mesh_count_long"}


def clauses_asked(rig, book):
    """Return how many requirements of a clause bind a vessel of this length."""
    return sum(rule.applies_to(rig, None) and not rule.by_custom for rule in asked(book))


class TestEntries:
    @pytest.mark.parametrize(
        ("name", "text", "value"),
        [
            ("port_gap", "7 ft 6 in", 7.5 * FOOT),
            ("port_gap", "8", 8 * FOOT),
            ("dropper_length", "42", 42 * INCH),
            ("dropper_length", "3' 6\"", 42 * INCH),
            ("dropper_chain", "5/16", 5 / 16 * INCH),
            ("bar_gap", "50", 0.05),
            ("bar_gap", "1 7/8 in", 15 / 8 * INCH),
            ("mesh_count", "100", 100),
            ("mesh_count", "200 bars", 100),
            ("mesh_count", "75 Meshes", 75),
            ("sweep", "No", False),
            ("sweep", "", None),
            ("port_gap", "  ", None),
        ],
    )
    def test_read_what_is_written_on_deck(self, name, text, value):
        assert read_one(name, text, {}) == pytest.approx(value)

    def test_links_are_counted_by_the_pitch_of_their_chain(self):
        # NACM Grade 30 proof coil, 3/8 in: inside length 1.38 in, from memory.
        told = {"dropper_chain": "3/8", "dropper_length": "34 links"}
        measures, unread, *_ = read(told)
        assert not unread
        assert measures["dropper_length"] == pytest.approx(34 * 1.38 * INCH)
        assert read_one("dropper_length", "30 links of 5/16 in", told) == pytest.approx(
            30 * STOCKS["5/16 in"].pitch
        )

    @pytest.mark.parametrize(
        ("name", "text", "words"),
        [
            ("port_gap", "8 furlongs", "not a unit known here"),
            ("port_gap", "34 links", "not a unit known here"),
            ("port_gap", "3000 ft", "longer than any net"),
            ("bosom", "900 ft", "longer than any bosom this site has seen"),
            ("mesh", "25", "bigger than any mesh"),
            ("mesh", "2,5", "one number or two"),
            ("mesh", ", ".join(["2 1/2"] * 21), "That is 21 readings"),
            ("dropper_length", "34 links", "Enter the size of the chain first"),
            ("dropper_length", "34 links of 7/16", "No chain is sold"),
            ("dropper_length", "9999 links of 3/8", "more than any chain"),
            ("mesh_count", "many", "Write it like 100"),
            ("mesh_count", "20000", "more than any codend"),
            ("sweep", "perhaps", "Answer yes or no"),
        ],
    )
    def test_what_cannot_be_read_is_told(self, name, text, words):
        with pytest.raises(UnitError, match=words):
            read_one(name, text, {})
        measures, unread, *_ = read({"bosom": "16 ft", "nobody asks": "this"} | {name: text})
        assert measures == ({} if name == "bosom" else {"bosom": 16 * FOOT})
        assert words in unread[name]

    def test_what_is_unlikely_is_taken_from_a_writer_who_is_sure_of_it(self):
        sure = QUESTIONS["bosom"].sure
        asked = read({"bosom": "900 ft"})
        assert asked.unlikely == ("bosom",)
        assert not asked.measures
        told = read({"bosom": "900 ft", sure: "900 ft"})
        assert told.unlikely == ("bosom",)
        assert told.measures == {"bosom": 900 * FOOT}
        # Who was sure of one entry was not asked about another.
        assert read({"bosom": "800 ft", sure: "900 ft"}).unread.keys() == {"bosom"}
        assert read({"bosom": "9000 ft", sure: "9000 ft"}).unread.keys() == {"bosom"}


class TestSeveral:
    """Lengths listed one by one: each is read in its place, and the worst decides."""

    BOOK = rulebook.load("no-sweep", "1")
    GAP = BOOK.requirement("dropper_spacing").limit
    BALL = BOOK.requirement("float_diameter").limit

    def finding(self, key, **typed):
        found = read(typed)
        assert not found.unread
        return sheet.judged(found.measures, self.BOOK).finding(key)

    def test_each_gap_of_a_wing_has_its_place(self):
        wide, close = (f"{metres / INCH} in" for metres in (self.GAP + INCH, self.GAP - INCH))
        told = {"port_last": "1 ft", "starboard_last": "1 ft", "starboard_gap": close}
        gaps = ", ".join([close, close, wide, close])
        finding = self.finding("dropper_spacing", port_gap=gaps, **told)
        assert finding.places == ("port wing, gap 3 of 4 from the wing end",)
        assert finding.margin == pytest.approx(-INCH)
        alone = self.finding("dropper_spacing", port_gap=wide, **told)
        assert alone.places == ("port wing, widest gap",)
        assert alone.margin == finding.margin

    def test_a_whole_step_breaks_the_rule_at_the_wing_end_alone(self):
        step = f"{self.GAP / INCH} in"
        told = {"starboard_last": "1 ft", "starboard_gap": step, "port_gap": f"{step}, {step}"}
        assert self.finding("dropper_spacing", port_last="1 ft", **told).outcome == PASS
        finding = self.finding("dropper_spacing", port_last=step, **told)
        assert finding.places == ("port wing end",)

    def test_the_smallest_float_and_the_widest_gap_decide(self):
        small, ok = self.BALL - INCH, self.BALL + INCH
        sizes = "; ".join(f"{metres / INCH} in" for metres in (ok, small, ok, small))
        finding = self.finding("float_diameter", float_size=sizes)
        assert finding.places == ("float 2 of 4 measured", "float 4 of 4 measured")
        assert finding.measured == pytest.approx(small)

    def test_wire_gauged_at_two_places_goes_by_the_thicker(self):
        limit = self.BOOK.requirement("top_leg_wire").limit
        thick = f"{limit / INCH} in, {(limit + INCH / 16) / INCH} in"
        finding = self.finding("top_leg_wire", port_top_wire=thick, starboard_top_wire="3/8")
        assert finding.places == ("port top leg, place 2 of 2",)

    @pytest.mark.parametrize(
        ("text", "lengths"),
        [
            ("7 ft 6 in, 8 ft", (90, 96)),
            ("7, 8 ft", (84, 96)),
            ("7-6, 8", (90, 96)),
            ("7;8;\n6.5", (84, 96, 78)),
            ("8 ft; 6 in", (96, 6)),
            ("8 ft, 7 ft", (96, 84)),
        ],
    )
    def test_are_read_as_they_are_written(self, text, lengths):
        assert read({"port_gap": text}).measures["port_gap"] == pytest.approx(
            tuple(inches * INCH for inches in lengths)
        )

    @pytest.mark.parametrize("text", ["8 ft, 6 in", "8', 6", "8 feet , 6 1/2 in; 7 ft", "8', 6''"])
    def test_feet_and_inches_with_a_comma_are_asked_about(self, text):
        # 3 ft 6 in of a dropper, read as two, would be a dropper of 6 in.
        assert "may be one length or two" in read({"port_gap": text}).unread["port_gap"]

    def test_two_numbers_with_nothing_but_a_comma_are_asked_about(self):
        assert "one number or two" in read({"port_gap": "7,8"}).unread["port_gap"]

    def test_one_that_is_unlikely_is_asked_about(self):
        assert read({"float_size": "8, 8, 80"}).unlikely == ("float_size",)

    def test_links_of_droppers_of_several_chains_say_which(self):
        told = {"dropper_chain": "5/16, 3/8", "dropper_length": "30, 31 links"}
        assert "More than one size" in read(told).unread["dropper_length"]
        each = read({**told, "dropper_length": "30 links of 3/8, 31 links of 5/16"})
        sizes = tuple(n * STOCKS[name].pitch for n, name in ((30, "3/8 in"), (31, "5/16 in")))
        assert each.measures["dropper_length"] == pytest.approx(sizes)
        alike = read({"dropper_chain": "3/8, 3/8 in", "dropper_length": "30 links"})
        assert alike.measures["dropper_length"] == pytest.approx(sizes[0])

    @given(seeds, gear_books)
    def test_of_a_wing_the_gaps_and_the_stretch_at_its_end_are_the_wing(self, seed, book):
        rig = sample.legal_rig(random.Random(seed), book)
        told = written.measures(rig)
        for side in ("port", "starboard"):
            gaps = told[f"{side}_gap"]
            whole = told[f"{side}_last"] + sum(gaps if isinstance(gaps, tuple) else (gaps,))
            assert whole == pytest.approx(rig.footrope.wing(side))


class TestMesh:
    """50 CFR 648.80(f)(2), read in the 2015 edition: the average of 20 consecutive meshes."""

    ROW = ["2 1/2"] * 12 + ["2 3/8"] * 8

    @pytest.mark.parametrize("between", [", ", ",", "; ", "\n"])
    def test_twenty_readings_make_their_average(self, between):
        found = read({"mesh": between.join(self.ROW)})
        assert found.measures["mesh"] == pytest.approx((12 * 2.5 + 8 * 2.375) / 20 * INCH)
        assert not found.unread
        assert not found.so_far

    def test_one_figure_is_the_average_worked_out_by_the_officer(self):
        assert read({"mesh": "2 1/2"}).measures == {"mesh": 2.5 * INCH}

    def test_a_unit_after_the_last_is_that_of_all(self):
        found = read({"mesh": ", ".join(["62"] * 19 + ["64 mm"])})
        assert found.measures["mesh"] == pytest.approx(0.0621)
        # Meant or not, meshes of 2 1/2 mm are asked about.
        assert read({"mesh": ", ".join(["2 1/2"] * 19 + ["63 mm"])}).unlikely == ("mesh",)

    @pytest.mark.parametrize("readings", [2, 12, 19])
    def test_fewer_are_not_measured_however_small_they_are(self, readings):
        found = read({"mesh": ", ".join(["1 1/2"] * readings)})
        assert found.so_far == {
            "mesh": f"{readings} of 20 readings, average so far 1 1/2 in. The rule goes by 20."
        }
        assert not found.measures
        assert not found.unread
        verdict = sheet.judged(found.measures, rulebook.load("grate", "1"))
        assert verdict.finding("mesh_size").outcome == NOT_MEASURED

    def test_small_meshes_in_a_row_that_is_large_enough_are_inside(self):
        book = rulebook.load("grate", "1")
        limit = book.requirement("mesh_size").limit
        row = [limit - INCH / 8] * 10 + [limit + INCH / 8] * 10
        found = read({"mesh": ", ".join(f"{metres * 1000:.4f} mm" for metres in row)})
        assert sheet.judged(found.measures, book).finding("mesh_size").outcome == PASS

    @given(st.lists(st.integers(20, 90), min_size=20, max_size=20))
    def test_any_row_makes_its_average(self, millimetres):
        found = read({"mesh": "\n".join(f"{size} mm" for size in millimetres)})
        assert found.measures["mesh"] == pytest.approx(sum(millimetres) / 20 / 1000)


@given(seeds, gear_books)
def test_bars_stand_for_half_as_many_meshes(seed, book):
    rig = sample.legal_rig(random.Random(seed), book)
    assume(rig.codend is not None)
    square = replace(rig.codend, counted=2 * rig.codend.counted + 1, hanging="square")
    told = written.typed(replace(rig, codend=square))
    assert told["mesh_count"] == f"{square.counted} bars"
    assert read(told)[0]["mesh_count"] == square.counted / 2


def test_with_no_sweep_on_the_net_its_rules_find_nothing_to_check():
    verdict = sheet.judged({"sweep": False}, rulebook.load("chain-sweep", "1"))
    sweep = [each for each in verdict.findings if each.key.startswith("sweep_")]
    told = {each.key: each.outcome for each in sweep if each.key != "sweep_attachment"}
    assert set(told.values()) == {PASS}
    assert len(told) == 6
