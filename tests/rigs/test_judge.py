"""What a verdict says: law and custom apart, what is not measured, and what cannot be right."""

import random
from dataclasses import replace
from math import inf

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigs.check import sheet, written
from rigs.make import faults, sample
from rigs.requirements.readings import Between
from rigs.rules import rulebook
from rigs.rules.judge import FAIL, NOT_MEASURED, judge
from rigs.words.gear import PORT, SIDES, STARBOARD, Footrope, Headrope
from rigs.words.units import FATHOM, FOOT, INCH
from tests.rigs.rig_factory import gear_books, make_rig

NO_SWEEP = rulebook.load("no-sweep", "1")
GEAR = rulebook.gear_books()


def with_droppers(rig, **changes):
    return replace(rig, droppers=tuple(replace(each, **changes) for each in rig.droppers))


class TestCustom:
    """Droppers of 42 in on a net without a sweep: common practice, no source."""

    short = with_droppers(make_rig(NO_SWEEP), length=41 * INCH)

    def test_to_do_otherwise_breaks_nothing(self):
        verdict = judge(self.short, NO_SWEEP)
        assert verdict.legal is True
        assert verdict.failed == ()
        assert verdict.failed_keys == set()
        assert [each.key for each in verdict.off_custom] == ["dropper_length"]
        assert verdict.missed_keys == {"dropper_length"}

    def test_it_has_no_clause(self):
        (finding,) = judge(self.short, NO_SWEEP).customs
        assert finding.by_custom
        assert (finding.outcome, finding.clause) == (FAIL, "")

    def test_the_same_droppers_break_the_law_of_the_grate_fishery(self):
        book = rulebook.load("grate", "1")
        verdict = judge(with_droppers(make_rig(book), length=41 * INCH), book)
        assert verdict.failed_keys == {"dropper_length"}
        assert verdict.off_custom == ()

    def test_not_measured_it_leaves_a_rig_legal(self):
        verdict = judge(with_droppers(make_rig(NO_SWEEP), length=None), NO_SWEEP)
        assert verdict.legal is True
        assert verdict.not_measured == ()

    def test_every_finding_is_told_once(self):
        for rig in (make_rig(NO_SWEEP), self.short, replace(self.short, droppers=None)):
            verdict = judge(rig, NO_SWEEP)
            groups = (verdict.failed, verdict.passed, verdict.not_measured, verdict.customs)
            assert sorted(f.key for group in groups for f in group) == sorted(
                f.key for f in verdict.findings
            )


class TestBounds:
    """What was not measured may be anything: a breach that is certain is one all the same."""

    def test_a_cable_of_41_fathoms_is_too_long_whatever_the_legs_are(self):
        """At most 40 fathoms: 50 CFR 648.80(a)(9)(ii)(B), from memory."""
        rig = make_rig(NO_SWEEP, legs=())
        for fathoms, outcome in ((41, FAIL), (39, NOT_MEASURED)):
            cables = tuple(replace(c, length=fathoms * FATHOM) for c in rig.ground_cables)
            finding = judge(replace(rig, ground_cables=cables), NO_SWEEP).finding(
                "door_to_wing_end"
            )
            assert finding.outcome == outcome
            assert finding.measured == Between(pytest.approx(fathoms * FATHOM), inf)
            assert f"at least {fathoms} fm" in finding.sentence

    def test_one_leg_too_long_is_enough(self):
        rig = make_rig(NO_SWEEP)
        legs = tuple(replace(leg, top_length=11 * FATHOM, bottom_length=None) for leg in rig.legs)
        verdict = judge(replace(rig, legs=legs), NO_SWEEP)
        assert verdict.failed_keys == {"door_to_wing_end"}
        assert verdict.finding("legs_equal").outcome == NOT_MEASURED

    @pytest.mark.parametrize(
        ("headrope", "longer", "excess"),
        [(20, "pass", FAIL), (35, "pass", NOT_MEASURED), (50, NOT_MEASURED, NOT_MEASURED)],
    )
    def test_a_footrope_of_which_a_wing_was_not_measured(self, headrope, longer, excess):
        """Longer, by at most 20 ft: 50 CFR 648.80(a)(9)(ii)(C), from memory."""
        taken = {"port_wing": 20 * FOOT, "bosom": 21 * FOOT, "headrope": headrope * FOOT}
        verdict = sheet.judged(taken, NO_SWEEP)
        assert verdict.finding("footrope_longer").outcome == longer
        assert verdict.finding("footrope_excess").outcome == excess

    def test_half_a_sweep_that_is_long_enough_for_both(self):
        """At least 7 ft longer in all: 50 CFR 648.80(a)(9)(ii)(D), from memory."""
        book = rulebook.load("chain-sweep", "1")
        rig = make_rig(book)
        long = rig.footrope.length + 7 * FOOT
        for half, outcome in ((long, "pass"), (long - 2 * INCH, NOT_MEASURED)):
            sweep = replace(rig.sweep, port=half, starboard=None)
            verdict = judge(replace(rig, sweep=sweep), book)
            assert verdict.finding("sweep_excess").outcome == outcome
            assert verdict.finding("sweep_excess_each_side").outcome == NOT_MEASURED

    def test_a_sweep_too_short_for_its_wing_wherever_the_dropper_meets_it(self):
        book = rulebook.load("chain-sweep", "1")
        rig = make_rig(book)
        sweep = replace(rig.sweep, port=2 * FOOT)
        droppers = tuple(replace(each, sweep_position=None) for each in rig.droppers)
        verdict = judge(replace(rig, sweep=sweep, droppers=droppers), book)
        finding = verdict.finding("sweep_wing_excess")
        assert (finding.outcome, finding.places) == (FAIL, ("port wing end",))

    @pytest.mark.parametrize(
        ("counted", "told"),
        [
            # 100 meshes for a vessel over 60 ft, 50 for others: 50 CFR 648.80(a)(15)(i)(B).
            (100, {"mesh_count_long": "pass", "mesh_count_short": "pass"}),
            (99, {"mesh_count_long": NOT_MEASURED, "mesh_count_short": "pass"}),
            (50, {"mesh_count_long": NOT_MEASURED, "mesh_count_short": "pass"}),
            (49, {"mesh_count_short": FAIL}),
        ],
    )
    def test_meshes_counted_on_a_vessel_of_unknown_length(self, counted, told):
        book = rulebook.load("grate", "1")
        rig = make_rig(book, vessel_length=None)
        rig = replace(rig, codend=replace(rig.codend, counted=counted))
        for verdict in (judge(rig, book), sheet.judged(written.measures(rig), book)):
            found = {f.key: f.outcome for f in verdict.findings if f.key.startswith("mesh_count")}
            assert found == told

    def test_a_side_left_out_is_not_measured_there(self):
        rig = make_rig(NO_SWEEP)
        rig = replace(rig, legs=rig.legs[:1], ground_cables=rig.ground_cables[1:])
        verdict = judge(rig, NO_SWEEP)
        assert verdict.failed == ()
        assert {f.key: f.missing_places for f in verdict.not_measured} == {
            "ground_gear_bare": ("starboard legs", "port ground cable"),
            "top_leg_wire": ("starboard legs",),
            "bottom_leg_wire": ("starboard legs",),
            "ground_cable_wire": ("port ground cable",),
            "legs_equal": ("starboard legs",),
            "legs_not_extended": ("starboard legs",),
            "door_to_wing_end": ("port side", "starboard side"),
        }

    def test_a_side_left_out_hides_no_breach_on_the_other(self):
        rig = make_rig(NO_SWEEP)
        thick = replace(rig.legs[0], top_diameter=INCH)
        finding = judge(replace(rig, legs=(thick,)), NO_SWEEP).finding("top_leg_wire")
        assert (finding.outcome, finding.places) == (FAIL, ("port legs",))
        assert finding.missing_places == ("starboard legs",)


class TestDoubts:
    def test_most_rigs_raise_none(self):
        for book in GEAR:
            assert judge(make_rig(book), book).doubts == ()

    def test_a_dropper_past_the_wing_end_fills_no_gap(self):
        rig = make_rig(NO_SWEEP)
        end = rig.footrope.starboard_end
        *kept, last = rig.droppers
        # The last one is told as 3 ft past the wing end, 20 ft from the corner.
        past = replace(last, position=end + 3 * FOOT)
        verdict = judge(replace(rig, droppers=(*kept, past)), NO_SWEEP)
        (doubt,) = verdict.doubts
        assert doubt.spots == (past,)
        assert "past the starboard wing end" in doubt.what
        assert verdict.failed_keys == {"dropper_spacing"}
        assert verdict.finding("dropper_spacing").margin == pytest.approx(-4 * FOOT)

    def test_just_past_it_is_at_the_end(self):
        rig = make_rig(NO_SWEEP, footrope=Footrope(16 * FOOT, 16 * FOOT, 16 * FOOT))
        *kept, last = rig.droppers
        near = replace(last, position=last.position + INCH / 8)
        verdict = judge(replace(rig, droppers=(*kept, near)), NO_SWEEP)
        assert (verdict.legal, verdict.doubts) == (True, ())

    def test_droppers_all_past_the_ends_hang_nowhere(self):
        rig = make_rig(NO_SWEEP)
        far = replace(rig.droppers[0], position=100.0)
        verdict = judge(replace(rig, droppers=(far,)), NO_SWEEP)
        assert verdict.failed_keys == {
            "dropper_at_centre",
            "dropper_at_corners",
            "dropper_spacing",
        }

    def test_a_float_past_the_end_of_the_headrope(self):
        rig = make_rig(NO_SWEEP)
        *kept, last = rig.floats
        past = replace(last, position=last.position + FOOT)
        verdict = judge(replace(rig, floats=(*kept, past)), NO_SWEEP)
        (doubt,) = verdict.doubts
        assert doubt.spots == (past,)
        assert "past the starboard end of the headrope" in doubt.what
        # The gap it would have closed, up to the end of the rope, is still as wide.
        assert verdict.finding("float_spacing").measured == pytest.approx(
            rig.headrope.length / 2 - kept[-1].position
        )

    def test_a_dropper_joined_past_the_end_of_the_sweep(self):
        book = rulebook.load("chain-sweep", "1")
        rig = make_rig(book)
        *kept, last = rig.droppers
        past = replace(last, sweep_position=rig.sweep.starboard + FOOT)
        (doubt,) = judge(replace(rig, droppers=(*kept, past)), book).doubts
        assert doubt.spots == (past,)


# Of any rig at all -------------------------------------------------------------


def varied(rng, book, difficulty):
    """Return a rig with a fault or two, of which no figure is as it should be."""
    rig = sample.legal_rig(rng, book, difficulty)
    for key in rng.sample(faults.spoilable(book, rig), 2):
        try:
            rig = faults.spoil(rig, key, faults.Draw(rng, book, difficulty))
        except faults.CannotMake:
            continue

    def near(value):
        return value if rng.random() < 0.7 else value * rng.uniform(0.9, 1.1)

    rope = Footrope(*map(near, (rig.footrope.bosom, *map(rig.footrope.wing, SIDES))))
    return replace(
        rig,
        headrope=Headrope(near(rig.headrope.length)),
        footrope=rope,
        ground_cables=tuple(replace(c, length=near(c.length)) for c in rig.ground_cables),
        legs=tuple(
            replace(leg, top_length=near(leg.top_length), bottom_length=near(leg.bottom_length))
            for leg in rig.legs
        ),
    )


def fields_of(part):
    told = {name: None for name in part.__slots__ if getattr(part, name) is not None}
    for name in ("side", "position", "count", "hanging", "bosom", "port_wing", "starboard_wing"):
        told.pop(name, None)
    return list(told)


def forgotten(rig, rng):
    """Return ``rig`` as it is known to somebody who did not look at one thing."""
    what = rng.choice(
        [
            "headrope",
            "footrope",
            "droppers",
            "floats",
            "legs",
            "ground_cables",
            "sweep",
            "codend",
            "grate",
            "vessel_length",
        ]
    )
    part = getattr(rig, what)
    if what == "vessel_length" or (what in ("droppers", "floats") and rng.random() < 0.2):
        return replace(rig, **{what: None})
    if not part:
        return rig
    if not isinstance(part, tuple):
        fields = fields_of(part)
        if not fields:
            return rig
        return replace(rig, **{what: replace(part, **{rng.choice(fields): None})})
    index = rng.randrange(len(part))
    if what in ("legs", "ground_cables") and rng.random() < 0.3:
        return replace(rig, **{what: part[:index] + part[index + 1 :]})
    fields = fields_of(part[index])
    if not fields:
        return rig
    less = replace(part[index], **{rng.choice(fields): None})
    return replace(rig, **{what: (*part[:index], less, *part[index + 1 :])})


def outcomes(verdict):
    return {finding.key: finding.outcome for finding in verdict.findings}


seeds = st.integers(0, 10**6)
levels = st.integers(1, 3)


@given(seeds, gear_books, levels)
def test_to_know_less_never_turns_a_rule_round(seed, book, difficulty):
    rng = random.Random(seed)
    rig = varied(rng, book, difficulty)
    for _ in range(6):
        less = forgotten(rig, rng)
        known, told = outcomes(judge(rig, book)), outcomes(judge(less, book))
        for key in known.keys() & told.keys():
            assert {known[key], told[key]} != {"pass", FAIL}, key
            # Nor is anything known of what was not measured before.
            assert known[key] != NOT_MEASURED or told[key] == NOT_MEASURED, key
        rig = less


@given(seeds, gear_books, levels)
def test_what_a_sheet_leaves_open_never_turns_a_rule_round(seed, book, difficulty):
    rng = random.Random(seed)
    measures = written.measures(varied(rng, book, difficulty))
    while measures:
        less = dict(measures)
        del less[rng.choice(sorted(less))]
        known = outcomes(sheet.judged(measures, book))
        told = outcomes(sheet.judged(less, book))
        for key in known.keys() & told.keys():
            assert {known[key], told[key]} != {"pass", FAIL}, key
        measures = less


def mirrored(rig):
    """Return ``rig`` with port and starboard changed about."""
    other = {PORT: STARBOARD, STARBOARD: PORT}

    def turned(part):
        met = getattr(part, "sweep_position", None)
        changes = {"position": -part.position}
        return replace(part, **changes | ({} if met is None else {"sweep_position": -met}))

    rope, sweep = rig.footrope, rig.sweep
    return replace(
        rig,
        footrope=replace(rope, port_wing=rope.starboard_wing, starboard_wing=rope.port_wing),
        droppers=rig.droppers and tuple(turned(each) for each in reversed(rig.droppers)),
        floats=rig.floats and tuple(turned(each) for each in reversed(rig.floats)),
        legs=tuple(replace(each, side=other[each.side]) for each in rig.legs),
        ground_cables=tuple(replace(each, side=other[each.side]) for each in rig.ground_cables),
        sweep=sweep and replace(sweep, port=sweep.starboard, starboard=sweep.port),
    )


@given(seeds, gear_books, levels)
def test_port_and_starboard_are_judged_alike(seed, book, difficulty):
    rng = random.Random(seed)
    rig = varied(rng, book, difficulty)
    for _ in range(rng.randrange(4)):
        rig = forgotten(rig, rng)
    one, other = judge(rig, book), judge(mirrored(rig), book)
    assert outcomes(one) == outcomes(other)
    for here, there in zip(one.findings, other.findings, strict=True):
        assert here.margin == pytest.approx(there.margin, abs=1e-9)
        assert len(here.spots) == len(there.spots)
    assert len(one.doubts) == len(other.doubts)
