"""Tuning from shine and catch: heights, the share of bottom animals, effects and advice."""

import random
from collections import Counter
from dataclasses import replace
from statistics import mean

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from scipy import stats
from scipy.optimize import brentq

from rigs import tuning
from rigs.make import sample
from rigs.make.changes import more_floats
from rigs.physics import chain
from rigs.physics.balance import float_lift
from rigs.physics.practice import FOOTROPE_HEIGHT
from rigs.physics.tow import BOTTOMS, FRICTION, hang, height_report, line
from rigs.rules import rulebook
from rigs.rules.judge import judge
from rigs.statistics.interval import clopper_pearson
from rigs.tuning import (
    CANNOT_TELL,
    CENTRE,
    IN_WINDOW,
    PLACES,
    TOO_HIGH,
    TOO_LOW,
    Catch,
    Tow,
    bycatch,
    dropper_at,
    heights,
    last_change,
    tune,
)
from rigs.tuning.proposals import (
    ADD_DROPPERS,
    ADD_FLOATS,
    EVEN_UP,
    LENGTHEN_FOOTROPE,
    LENGTHEN_HEADROPE,
    LOOK,
    MEASURE,
)
from rigs.tuning.remarks import NO_ADVICE, NO_EFFECT, rules_said
from rigs.tuning.uplift import (
    Added,
    Condition,
    Hung,
    chains,
    conditions,
    effect,
    load,
    reach,
    settle,
)
from rigs.words.gear import PORT, STARBOARD, Dropper, Headrope
from rigs.words.units import FOOT, INCH
from tests.benchmarks import bycatch as benchmark
from tests.rigs.rig_factory import make_rig

BOOK = rulebook.load("no-sweep", "1")
STOCK = chain.STOCKS["3/8 in"]
RIG = make_rig(BOOK)
ROOMY = make_rig(BOOK, headrope=Headrope(RIG.footrope.length - 10 * FOOT))
MAKE = Hung(STOCK.size, 42 * INCH)


def level(inches, speed=1.5, **others):
    """Return a tow that showed the same shine everywhere."""
    return Tow(speed, dict.fromkeys(PLACES, inches * INCH), **others)


def kinds(tuning_):
    return {advice.kind for advice in tuning_.advice}


# Heights -----------------------------------------------------------------


def test_heights_are_those_of_each_dropper():
    shine = dict(zip(PLACES, (x * INCH for x in (6, 8, 10, 12, 14)), strict=True))
    found = heights(Tow(1.5, shine), RIG)
    assert [each.place for each in found.places] == list(PLACES)
    for each in found.places:
        report = height_report(chain.Choice(STOCK), 42 * INCH, 1.5, shine[each.place])
        assert each.rule == pytest.approx(42 * INCH - shine[each.place])
        assert (each.model, each.low, each.high) == (
            report.model.height,
            report.model.low,
            report.model.high,
        )
    assert found.model == pytest.approx(mean(each.model for each in found.places))
    assert found.rule == pytest.approx(32 * INCH)
    assert found.side(PORT) > found.side(STARBOARD)
    assert found.difference == pytest.approx(found.side(PORT) - found.side(STARBOARD))


def test_places_follow_the_footrope():
    """Wings of 16 and 20 ft with a dropper every 8 ft: the outermost are 16 ft out."""
    at = [dropper_at(RIG, place).position / FOOT for place in PLACES]
    assert at == pytest.approx([-24, -8, 0, 8, 24])


def test_difference_needs_both_sides():
    found = heights(Tow(1.5, {"port wing": 0.2, "starboard corner": 0.3}), RIG)
    assert found.difference is None
    assert found.side(PORT) is not None
    assert heights(Tow(1.5, {CENTRE: 0.2}), RIG).side(PORT) is None


@pytest.mark.parametrize(
    ("rig", "tow", "words"),
    [
        (RIG, Tow(1.5, {}), "No shine"),
        (RIG, Tow(1.5, {"bow": 0.1}), "not a place"),
        (RIG, Tow(1.5, {CENTRE: 2.0}), "At the center: The shine is longer"),
        (RIG, Tow(-1, {CENTRE: 0.2}), "At the center: The speed"),
        (RIG.with_(droppers=()), Tow(1.5, {CENTRE: 0.2}), "no dropper at the center"),
        (RIG.with_(droppers=None), Tow(1.5, {"port wing": 0.2}), "no dropper at the port wing"),
        (
            RIG.with_(droppers=(Dropper(0, None, 0.009),)),
            Tow(1.5, {CENTRE: 0.2}),
            "was not measured",
        ),
        (RIG.with_(droppers=(Dropper(0, 1.0, 0.02),)), Tow(1.5, {CENTRE: 0.2}), "No chain"),
        (RIG.with_(droppers=(Dropper(2, 1.0, 0.009),)), Tow(1.5, {CENTRE: 0.2}), "no dropper"),
    ],
)
def test_a_tow_that_cannot_be_read_is_refused_in_plain_words(rig, tow, words):
    with pytest.raises(ValueError, match=words):
        heights(tow, rig)


# Catch -------------------------------------------------------------------


def test_the_standard_comes_from_the_rules():
    """50 CFR 648.80(a)(8)(i) [read]."""
    assert tuning.standard().clause == "50 CFR 648.80(a)(8)(i)"
    assert bycatch([Catch(100, 5)]).standard is tuning.standard()


def test_weights_get_an_interval_from_the_tows():
    """By numpy, a second way: the line through nought by matrices, its errors lifted (HC2)."""
    catches = [Catch(900, 30, 70), Catch(500, 25, 20), Catch(700, 10, 40)]
    found = bycatch(catches)
    bottom, total = np.array([30, 25, 10]), np.array([1000, 545, 750])
    weigh = np.diag(1 / total)
    pull = np.outer(total, total @ weigh) / (total @ weigh @ total)
    apart = (np.eye(3) - pull) @ bottom
    lifted = apart / np.sqrt(1 - np.diag(pull))
    share = bottom.sum() / total.sum()
    error = np.sqrt((lifted**2).sum()) / bottom.sum()
    off = np.eye(3) - pull
    roots = np.linalg.eigvals(off @ np.diag(total) @ off.T @ np.diag(1 / (1 - np.diag(pull)))).real
    freedom = roots.sum() ** 2 / (roots**2).sum()
    low = share * np.exp(-stats.t.isf(0.01, freedom) * error)
    assert found.share == pytest.approx(share)
    (only,) = found.intervals
    # Its upper end would lie beyond the whole catch.
    assert share * np.exp(stats.t.isf(0.0005, freedom) * error) > 1
    assert only.range == pytest.approx((low, 1))
    assert not only.exact
    assert "how much the tows differ" in only.basis


def test_one_tow_of_weights_has_no_interval():
    for catches in ([Catch(990, 10)], [Catch(990, 10), Catch(0, 0)]):
        found = bycatch(catches)
        assert found.intervals[0].range is None
        assert found.verdict == "too few tows to tell"
        assert "One tow" in found.intervals[0].basis


def test_one_tow_with_many_clean_baskets_is_still_one_tow():
    found = bycatch([Catch(1000, 0, 0, 0, 200)])
    assert found.intervals[1].range.high < 0.05
    assert found.verdict == "too few tows to tell"


def test_a_few_clean_tows_are_no_proof_and_many_are():
    few = bycatch([Catch(500, 0), Catch(400, 0)])
    assert few.share == 0
    assert few.intervals[0].range == pytest.approx((0, 0.5 * (1 - 0.03**0.5)))
    assert few.verdict == "too few tows to tell"
    assert "No tow had any" in few.intervals[0].basis
    # At 5 percent one tow in ten may be half bottom animals: 0.9 to the 33rd is over 3 in 100.
    assert bycatch([Catch(500, 0)] * 33).verdict == "too few tows to tell"
    assert bycatch([Catch(500, 0)] * 34).verdict == "under"


def test_tows_that_are_all_alike_do_not_tell_how_the_next_may_differ():
    found = bycatch([Catch(990, 10)] * 20)
    assert (found.intervals[0].range, found.verdict) == (None, "too few tows to tell")
    assert "same share" in found.intervals[0].basis


def test_counted_baskets_get_the_exact_interval():
    found = bycatch([Catch(900, 30, 0, 1, 30), Catch(800, 20, 0, 0, 28)])
    by_weight, by_count = found.intervals
    assert by_count.exact
    assert by_count.range == clopper_pearson(1, 58)
    assert by_count.share == pytest.approx(1 / 58)
    assert by_weight.share == pytest.approx(50 / 1750)
    # Baskets in some tows only are not counted on.
    assert len(bycatch([Catch(900, 30, 0, 1, 30), Catch(800, 20)]).intervals) == 1


@pytest.mark.parametrize(
    ("bottom", "verdict"),
    [
        ((10, 12, 11, 9), "under"),
        ((100, 120, 110, 90), "over"),
        ((10, 120, 40, 60), "too few tows to tell"),
        # Mostly clean, and one haul as big as the standard for all of them.
        ((0, 1, 0, 2, 0, 0, 1, 180), "too few tows to tell"),
    ],
)
def test_verdict_needs_the_whole_interval(bottom, verdict):
    found = bycatch([Catch(1000 - each, each) for each in bottom])
    assert found.verdict == verdict


def test_baskets_that_disagree_leave_it_open():
    catches = [Catch(990, 10, 0, 3, 30), Catch(988, 12, 0, 2, 30), Catch(989, 11, 0, 2, 30)]
    assert bycatch(catches).verdict == "too few tows to tell"


@pytest.mark.parametrize("tows", [2, 4, 8, 15, 40])
def test_at_the_standard_it_is_seldom_said_to_be_under_or_over(tows):
    """A small seeded part of ``python -m tests.benchmarks.bycatch``, patchy catches and all."""
    rng, count = np.random.default_rng(648), 150
    said = Counter()
    for catches in benchmark.CATCHES.values():
        found = benchmark.verdicts(rng, catches, tows, tuning.standard().limit, count)
        # 3 in 100, and three times the standard error of so few logs.
        assert found["under"] <= 10
        said += found
    assert said["under"] <= 0.02 * said.total()
    assert said["over"] <= 0.02 * said.total()
    assert said.total() == count * len(benchmark.CATCHES)


def test_a_clean_net_is_said_to_be_under_once_there_are_tows_enough():
    rng = np.random.default_rng(648)
    said = benchmark.verdicts(rng, benchmark.CATCHES["gamma of shape 0.5"], 20, 0.01, 200)
    assert said["under"] > 150
    assert (
        benchmark.verdicts(rng, benchmark.CATCHES["gamma of shape 1"], 12, 0.2, 200)["over"] > 150
    )


@pytest.mark.parametrize(
    "catches", [[Catch(-1, 2)], [Catch(float("nan"), 2)], [], [Catch(0, 0)], [Catch(1, 1, 0, 5, 3)]]
)
def test_catches_that_cannot_be_are_refused(catches):
    with pytest.raises(ValueError, match="[a-z]"):
        bycatch(catches)


# The model of effects ----------------------------------------------------

any_condition = st.builds(Condition, st.floats(0, 2.2), st.floats(0.2, 0.8))


@given(any_condition, st.floats(0, 1), st.floats(0.01, 0.5))
@settings(max_examples=40)
def test_a_higher_footrope_carries_more_chain(condition, share, more):
    one = Counter({MAKE: 1})
    top = reach(one, condition)
    low, high = share * top, min(top, (share + more) * top)
    assert load(one, low, condition) <= load(one, high, condition) + 1e-9
    assert load(one, top, condition) == pytest.approx(load(one, top + 1, condition))


@given(any_condition, st.floats(0.05, 0.95), st.integers(1, 12))
@settings(max_examples=40)
def test_settling_undoes_loading(condition, share, number):
    hung = Counter({MAKE: number, Hung(chain.STOCKS["5/16 in"].size, 1.2): 2})
    height = share * min(reach(Counter([make]), condition) for make in hung)
    found, clear = settle(hung, load(hung, height, condition), condition)
    assert found == pytest.approx(height, abs=1e-6)
    assert not clear


def test_effect_in_still_water_by_hand():
    """Straight chains: a metre of height costs its weight, so rise = pull / (chains x weight)."""
    nine = Counter({MAKE: 9})
    weight = chain.weight_in_sea_water(STOCK, 1.0)
    found = effect(nine, nine, lambda _: 0.5, conditions(0.0), Added(pull=30.0))
    assert found.after == pytest.approx(0.5 + 30 / (9 * weight), rel=1e-3)
    more = effect(nine, Counter({MAKE: 12}), lambda _: 0.5, conditions(0.0))
    assert more.after == pytest.approx(0.5 * 9 / 12, rel=1e-3)


@given(st.floats(6, 36), st.floats(0.6, 2))
@settings(max_examples=30)
def test_twice_the_droppers_share_the_pull(shine, speed):
    """Against the hanging chain itself: each dropper then bears half of what it bore."""
    chain_line = line(STOCK)
    before = hang(chain_line, 42 * INCH, speed, shine * INCH)

    def now(condition):
        return hang(chain_line, 42 * INCH, condition.speed, shine * INCH, condition.friction).height

    found = effect(Counter({MAKE: 5}), Counter({MAKE: 10}), now, conditions(speed))
    assert found.before == pytest.approx(before.height)
    condition = Condition(speed, FRICTION)
    assert load(Counter({MAKE: 1}), found.after, condition) == pytest.approx(
        before.load / 2, rel=0.01
    )
    assert abs(found.least) <= abs(found.change) + 1e-9 <= abs(found.most) + 2e-9


def test_too_much_lift_takes_the_droppers_clear():
    nine = Counter({MAKE: 9})
    found = effect(nine, nine, lambda _: 0.5, conditions(1.5), Added(lift=1000.0))
    assert found.clear
    assert found.after == pytest.approx(reach(nine, Condition(1.5, FRICTION)))


def test_no_change_changes_nothing():
    nine = Counter({MAKE: 9})
    found = effect(nine, nine, lambda _: 0.4, conditions(1.5))
    assert found.change == pytest.approx(0, abs=1e-6)


def test_chains_are_counted_by_side():
    double = RIG.with_(droppers=tuple(replace(each, count=2) for each in RIG.droppers))
    assert chains(RIG) == {MAKE: 7}
    assert chains(double) == {MAKE: 14}
    assert chains(RIG, PORT) == chains(RIG, STARBOARD) == {MAKE: 3.5}
    with pytest.raises(ValueError, match="not measured"):
        chains(RIG.with_(droppers=(Dropper(0, None, 0.01),)))
    with pytest.raises(ValueError, match="no droppers"):
        chains(RIG.with_(droppers=()))


# Advice ------------------------------------------------------------------


def test_a_net_in_the_window_is_left_alone():
    found = tune(RIG, [level(12)], BOOK)
    assert found.status == IN_WINDOW
    assert FOOTROPE_HEIGHT.holds(found.height)
    assert found.advice == ()
    # The rule of thumb says 30 in, over the window: both are told, and which counts.
    assert found.rule_status == TOO_HIGH
    assert any("length minus shine" in note for note in found.notes)


def test_a_low_net_gets_floats_and_headrope():
    found = tune(RIG, [level(24)], BOOK)
    assert found.status == TOO_LOW
    assert kinds(found) == {ADD_FLOATS, LENGTHEN_HEADROPE}
    for advice in found.advice:
        assert advice.good
        assert advice.effect.change > 0
        assert advice.effect.before == pytest.approx(found.height)
        assert found.window.holds(advice.effect.after)
        assert advice.port == pytest.approx(found.port + advice.effect.change)
        assert "assumption" in advice.effect.basis
    assert found.advice[0].kind == ADD_FLOATS  # the same effect for less work
    extra = len(found.advice[0].rig.floats) - len(RIG.floats)
    pull = extra * float_lift(8 * INCH).likely * chain.GRAVITY / 2
    condition = Condition(1.5, FRICTION)
    all_chains = chains(RIG)
    expected, _ = settle(all_chains, load(all_chains, found.height, condition) + pull, condition)
    assert found.advice[0].effect.after == pytest.approx(expected)


def test_a_high_net_gets_droppers_and_footrope():
    # At a slow tow the droppers reach above the window.
    found = tune(ROOMY, [level(3, speed=1.0)], BOOK)
    assert found.status == TOO_HIGH
    assert kinds(found) == {ADD_DROPPERS, LENGTHEN_FOOTROPE}
    for advice in found.advice:
        assert advice.effect.change < 0
        assert advice.verdict.legal is True
    longer = next(a for a in found.advice if a.kind == LENGTHEN_FOOTROPE).rig
    limit = BOOK.requirement("footrope_excess").limit
    assert longer.footrope.length - longer.headrope.length <= limit + 1e-9


def test_no_footrope_past_its_bound():
    """RIG's footrope is already as much longer as 50 CFR 648.80(a)(9)(ii)(C) allows."""
    assert kinds(tune(RIG, [level(3, speed=1.0)], BOOK)) == {ADD_DROPPERS}


def test_a_change_that_would_do_too_much_is_not_advised():
    """One more 12 in float would lift this net from too low to past the window."""
    big = RIG.with_(floats=tuple(replace(each, diameter=12 * INCH) for each in RIG.floats))
    found = tune(big, [level(24)], BOOK)
    assert found.status == TOO_LOW
    assert found.advice == ()
    assert NO_ADVICE in found.notes
    assert NO_ADVICE not in tune(RIG, [level(24)], BOOK).notes


def test_no_headrope_past_the_footrope():
    """The footrope must stay the longer: 50 CFR 648.80(a)(9)(ii)(C)."""
    rig = make_rig(BOOK, headrope=Headrope(RIG.footrope.length - 1 * FOOT))
    assert kinds(tune(rig, [level(24)], BOOK)) == {ADD_FLOATS}


@pytest.mark.parametrize(("port", "starboard"), [(8, 22), (22, 8)])
def test_a_lopsided_net_is_evened_up(port, starboard):
    shine = {CENTRE: 14 * INCH, "port corner": port * INCH, "starboard corner": starboard * INCH}
    found = tune(RIG, [Tow(1.5, shine)], BOOK)
    assert found.uneven
    assert found.status == IN_WINDOW
    assert found.advice[0].kind == MEASURE
    assert found.advice[0].effect is None
    evening = [advice for advice in found.advice if advice.kind == EVEN_UP]
    assert evening
    low = STARBOARD if starboard > port else PORT
    for advice in evening:
        assert abs(advice.port - advice.starboard) < abs(found.difference)
        assert (advice.effect.change > 0) == (advice.side == low)
    assert any(f"The {low} side flies" in note for note in found.notes)


def test_no_effect_is_predicted_where_the_pull_is_unknown():
    """Droppers bright to the top: the footrope was down, by how much nobody can tell."""
    found = tune(RIG, [level(42)], BOOK)
    assert found.advice
    assert all(advice.effect is None for advice in found.advice)
    assert NO_EFFECT in found.notes


def test_a_shine_of_nothing_proposes_nothing():
    found = tune(RIG, [level(0, speed=1.0)], BOOK)
    assert found.status == TOO_HIGH  # at least so high, and that is over the window
    assert found.advice == ()
    assert any("No dropper showed any shine" in doubt for doubt in found.doubts)
    shine = dict.fromkeys(PLACES, 3 * INCH) | {CENTRE: 0.0, "port wing": 0.0}
    found = tune(RIG, [Tow(1.0, shine)], BOOK)
    assert found.advice == ()
    assert any("No shine at the port wing and center" in doubt for doubt in found.doubts)


def test_droppers_on_a_sweep_tell_no_height():
    book = rulebook.load("chain-sweep", "1")
    found = tune(make_rig(book), [level(26)], book)
    assert found.advice == ()
    assert any("has a sweep" in doubt for doubt in found.doubts)


@pytest.mark.parametrize(
    ("shine", "words"),
    [
        ({CENTRE: 30}, "One dropper cannot tell"),
        ({"port corner": 30}, "One dropper cannot tell"),
        ({"port corner": 30, "port wing": 30}, "not read on both sides"),
        ({CENTRE: 30, "port wing": 30, "starboard corner": 30}, "not read on both sides"),
    ],
)
def test_a_reading_that_shows_no_sides_proposes_nothing(shine, words):
    tow = Tow(1.5, {place: size * INCH for place, size in shine.items()})
    found = tune(RIG, [tow], BOOK)
    assert found.status == TOO_LOW
    assert found.advice == ()
    assert words in found.doubts[0]


def test_a_spread_that_reaches_the_window_proposes_nothing_and_a_known_bottom_helps():
    unknown = tune(RIG, [level(18, speed=1.2)], BOOK)
    assert unknown.status == IN_WINDOW
    found = tune(RIG, [level(19)], BOOK)
    assert found.status == TOO_LOW
    assert not found.sure
    assert found.high > found.window.low
    assert found.advice == ()
    assert "may be at the right height after all" in found.doubts[0]
    known = tune(RIG, [level(20, bottom=BOTTOMS["stones"])], BOOK)
    assert known.sure
    assert kinds(known) == {ADD_FLOATS, LENGTHEN_HEADROPE}
    assert not tune(RIG, [level(20)], BOOK).advice


def test_tows_that_do_not_agree_propose_nothing():
    found = tune(RIG, [level(shine) for shine in (17, 20, 24, 28, 32, 36)], BOOK)
    assert found.status == TOO_LOW
    assert found.sure
    assert found.advice == ()
    assert "do not agree" in found.doubts[0]


# First things first ------------------------------------------------------


@pytest.mark.parametrize("speed", [1.0, 1.5, 1.9])
@pytest.mark.parametrize(("port", "starboard"), [(2, 9), (9, 2), (12, 19), (30, 25)])
def test_sides_that_differ_are_measured_before_any_float_is_added(port, starboard, speed):
    """Whatever their mean: on deck 2 in and 9 in are not one net's shine."""
    shine = {"port wing": port * INCH, "starboard wing": starboard * INCH}
    found = tune(RIG, [Tow(speed, shine)], BOOK)
    assert found.uneven
    assert found.low_side == (STARBOARD if starboard > port else PORT)
    assert found.advice[0].kind == MEASURE
    assert found.advice[0].pieces == 0
    assert found.advice[0].rules == ""
    assert kinds(found) <= {MEASURE, EVEN_UP}
    assert not found.flies_right


def test_an_inch_or_three_between_the_sides_is_level():
    shine = {"port wing": 24 * INCH, "starboard wing": 27 * INCH}
    found = tune(RIG, [Tow(1.5, shine)], BOOK)
    assert not found.uneven
    assert ADD_FLOATS in kinds(found)


def test_sides_that_cancel_out_over_two_tows_are_lopsided_all_the_same():
    one = {CENTRE: 20 * INCH, "port corner": 17 * INCH, "starboard corner": 24 * INCH}
    other = one | {"port corner": 24 * INCH, "starboard corner": 17 * INCH}
    found = tune(RIG, [Tow(1.5, one), Tow(1.5, other)], BOOK)
    assert found.difference == pytest.approx(0)
    assert found.low_side == PORT
    assert ADD_FLOATS not in kinds(found)


def test_a_side_that_was_level_before_has_caught_something():
    shine = {"port corner": 12 * INCH, "starboard corner": 17 * INCH}
    found = tune(RIG, [level(12), level(13), Tow(1.5, shine)], BOOK)
    (only,) = found.advice
    assert only.kind == LOOK
    assert "snagged" in only.text
    assert "crushed floats on the starboard side" in only.text


def shine_for(height, speed=1.5):
    """Return the inches of shine that the model reads as ``height`` in inches."""
    length = 42 * INCH
    # No shine where the chain's end hangs clear.
    if hang(line(STOCK), length, speed).height <= height * INCH:
        return 0.0
    off = lambda shine: hang(line(STOCK), length, speed, shine).height - height * INCH  # noqa: E731
    return brentq(off, 0, length) / INCH


def test_a_net_that_sinks_overnight_is_looked_over_before_it_is_changed():
    """From 16 in to 5 in with nothing changed: a snag or crushed floats."""
    tows = [level(shine_for(height), label=str(height)) for height in (16, 16, 5)]
    found = tune(RIG, tows, BOOK)
    assert found.status == TOO_LOW
    (only,) = found.advice
    assert only.kind == LOOK
    assert only.text.startswith("Look for something snagged, and for crushed or lost floats")
    assert "from about 16 in to 5 in" in only.text
    assert "before you change anything" in only.text
    assert found.run == found.used[2:]
    assert found.height == pytest.approx(5 * INCH, abs=0.01 * INCH)


def test_a_net_that_sinks_by_what_is_seen_on_deck_is_looked_over_too():
    """42 in droppers with 26, then 37 in of shine: 16 in, then 5 in by length minus shine."""
    found = tune(RIG, [level(26), level(26), level(37)], BOOK)
    before, _, after = found.used
    assert before.model - after.model < 6 * INCH  # in the model, fast tows lie close
    (only,) = found.advice
    assert only.kind == LOOK
    assert "By length minus shine the footrope dropped from about 16 in to 5 in" in only.text
    assert found.run == (after,)
    # At another speed the same shine is another height: that tells nothing.
    assert tune(RIG, [level(26), level(37, speed=2.2)], BOOK).jump is None


def test_a_net_that_rises_overnight_may_have_lost_droppers():
    tows = [level(shine_for(height)) for height in (8, 20)]
    (only,) = tune(RIG, tows, BOOK).advice
    assert only.kind == LOOK
    assert "droppers that are lost" in only.text


def test_another_speed_is_named_as_such():
    tows = [level(shine_for(18, 1.0), speed=1.0), level(shine_for(8, 1.8), speed=1.8)]
    (only,) = tune(RIG, tows, BOOK).advice
    assert only.text.startswith("Tow at the old speed")
    assert "from 1.9 to 3.5 kn" in only.text


@pytest.mark.parametrize(
    ("heights_seen", "jumps"),
    [
        ((16,), False),
        ((16, 15, 14, 16), False),
        ((16, 5, 16), False),  # it came back by itself, or was cleared
        ((16, 16, 5), True),
        ((16, 16, 5, 5), True),
        ((18, 6, 16, 4), False),  # so this net's tows scatter
    ],
)
def test_what_counts_as_sudden(heights_seen, jumps):
    found = tune(RIG, [level(shine_for(height)) for height in heights_seen], BOOK)
    assert (found.jump is not None) == jumps
    assert (LOOK in kinds(found)) == jumps


def test_a_height_that_stays_is_how_the_net_flies():
    tows = [level(shine_for(height)) for height in (16, 16, 5, 5, 5)]
    found = tune(RIG, tows, BOOK)
    assert found.jump is not None
    assert kinds(found) == {ADD_FLOATS, LENGTHEN_HEADROPE}


def test_a_change_of_the_net_is_no_jump():
    old = RIG.with_(floats=RIG.floats[::2])
    found = tune(RIG, [level(shine_for(5), rig=old), level(shine_for(16))], BOOK)
    assert found.jump is None
    assert found.flies_right


def test_legs_entered_apart_are_mentioned_first():
    legs = tuple(replace(each, bottom_length=each.top_length - 3 * FOOT) for each in RIG.legs)
    rig = RIG.with_(legs=legs)
    for tow in (level(24), level(12), Tow(1.5, {"port wing": 0.05, "starboard wing": 0.3})):
        found = tune(rig, [tow], BOOK)
        assert found.advice[0].kind == MEASURE
        assert "legs" in found.advice[0].text
        assert "3 ft apart" in found.advice[0].text
        assert found.advice[0].text.count("apart") == 1  # both sides alike, said once
        assert not kinds(found) & {ADD_FLOATS, LENGTHEN_HEADROPE, EVEN_UP}
    port, starboard = RIG.legs
    longer = replace(
        starboard,
        top_length=starboard.top_length + FOOT,
        bottom_length=starboard.bottom_length + FOOT,
    )
    found = tune(RIG.with_(legs=(port, longer)), [level(24)], BOOK)
    assert "10 fm to port, 10.17 fm to starboard" in found.advice[0].text


# What is said of the rules -----------------------------------------------


def test_a_net_that_breaks_rules_is_not_said_to_keep_them():
    rig = RIG.with_(droppers=RIG.droppers[1:], footrope=replace(RIG.footrope, off_bottom=False))
    broken = len(judge(rig, BOOK).failed)
    assert broken == 2
    found = tune(rig, [level(24)], BOOK)
    assert found.advice
    for advice in found.advice:
        assert advice.rules.startswith("The net still breaks 2 rules it broke before.")
        assert "adds none" in advice.rules
        assert "keep" not in advice.rules


@pytest.mark.parametrize(
    ("broken", "unmeasured", "said"),
    [
        (0, 0, "The changed net meets every rule checked here."),
        (1, 0, "The net still breaks 1 rule it broke before. This change adds none."),
        (
            2,
            1,
            "The net still breaks 2 rules it broke before. This change adds none. 1 rule could "
            "not be checked.",
        ),
        (
            0,
            3,
            "The changed net breaks none of the rules that could be checked here. 3 rules could "
            "not be: something was not measured.",
        ),
    ],
)
def test_how_a_changed_net_stands_with_the_rules(broken, unmeasured, said):
    assert rules_said(broken, unmeasured) == said


# What was foretold -------------------------------------------------------


def changed_and_towed(before, after, extra=2):
    """Return the TowHeights of a net towed at ``before``, in inches, and after more floats."""
    more = more_floats(RIG, extra)
    return [
        heights(level(shine_for(height), rig=rig), RIG)
        for rig, seen in ((RIG, before), (more, after))
        for height in seen
    ]


def test_a_change_that_did_what_was_foretold_fits():
    told = tune(RIG, [level(shine_for(7))], BOOK)
    extra = told.advice[0].pieces
    after = told.advice[0].effect.after / INCH
    found = last_change(changed_and_towed((7, 7.5), (after, after + 0.5), extra))
    assert found.fits
    assert found.effect.change > 0
    assert found.seen == pytest.approx((after - 7) * INCH, abs=0.01 * INCH)
    assert found.text.endswith("The two fit.")


def test_a_change_that_did_otherwise_does_not_fit():
    found = last_change(changed_and_towed((14, 14.5), (6, 6.5)))
    assert found.fits is False
    assert "do not fit" in found.text
    assert "seen down 8 in" in found.text


def test_tows_that_scatter_say_little():
    found = last_change(changed_and_towed((6, 12), (7, 14)))
    assert found.fits
    assert "scatter" in found.text


@pytest.mark.parametrize(
    ("before", "after", "words"),
    [((7,), (9, 9), "1 before it, 2 after it"), ((7, 7), (9,), "2 before it, 1 after it")],
)
def test_too_few_tows_say_so(before, after, words):
    found = last_change(changed_and_towed(before, after))
    assert found.fits is None
    assert "Too few" in found.text
    assert words in found.text


def test_no_change_yet_says_so():
    found = last_change([heights(level(12, rig=RIG), RIG)] * 3)
    assert found.fits is None
    assert "no change of this net yet" in found.text


@pytest.mark.parametrize(
    ("changes", "speed", "words"),
    [
        ({"headrope": Headrope(RIG.headrope.length + FOOT)}, 1.5, "more was changed"),
        ({"floats": RIG.floats[::2]}, 2.2, "kn before"),
        ({"floats": None}, 1.5, "floats were not all measured"),
    ],
)
def test_changes_that_cannot_be_compared_say_why(changes, speed, words):
    tows = [level(12, rig=RIG)] * 2 + [level(12, speed=speed, rig=RIG.with_(**changes))] * 2
    found = last_change([heights(tow, RIG) for tow in tows])
    assert found.fits is None
    assert words in found.text


def test_an_effect_leaves_room_for_stiff_legs_and_netting():
    """A quarter of what the chain alone would let through, at the least."""
    nine = Counter({MAKE: 9})
    found = effect(nine, Counter({MAKE: 12}), lambda _: 0.5, conditions(0.0))
    assert found.low == found.most
    assert found.least == pytest.approx(found.high)
    alone = effect(nine, Counter({MAKE: 12}), lambda _: 0.5, conditions(0.0)).change
    assert found.most <= alone
    assert abs(found.least) <= abs(alone) / 4 + 1e-9
    assert "legs and netting" in found.basis


def test_what_longer_ropes_do_besides_is_said_to_be_left_out():
    for tuned in (tune(RIG, [level(24)], BOOK), tune(ROOMY, [level(3, speed=1.0)], BOOK)):
        for advice in tuned.advice:
            assert bool(advice.left_out) == (advice.kind in (LENGTHEN_HEADROPE, LENGTHEN_FOOTROPE))


def test_no_shine_within_reach_of_the_window_cannot_tell():
    found = tune(RIG, [level(0, speed=2.0)], BOOK)
    assert found.height < found.window.high
    assert found.status == CANNOT_TELL
    assert not found.sure


def test_droppers_too_short_for_the_window_are_named():
    short = RIG.with_(droppers=tuple(replace(each, length=16 * INCH) for each in RIG.droppers))
    found = tune(short, [level(2)], BOOK)
    assert found.status == TOO_LOW
    assert any("Hang longer ones" in note for note in found.notes)


def test_tows_of_another_rig_count_for_the_trend_and_the_catch_only():
    old = RIG.with_(floats=RIG.floats[::2])
    tows = [
        level(30, rig=old, catch=Catch(900, 80)),
        level(12, catch=Catch(900, 20)),
        level(13, catch=Catch(800, 15)),
    ]
    found = tune(RIG, tows, BOOK)
    assert len(found.tows) == 3
    assert len(found.used) == 2
    assert found.height == pytest.approx(mean(each.model for each in found.tows[1:]))
    assert found.bycatch.tows == 3
    only_old = tune(RIG, tows[:1], BOOK)
    assert only_old.status == CANNOT_TELL
    assert only_old.height is None
    assert only_old.advice == ()
    assert not only_old.sure


def test_many_bottom_animals_over_a_net_that_flies_right_are_remarked_on():
    catch = [Catch(900, 100), Catch(800, 90), Catch(850, 92)]
    found = tune(RIG, [level(12, catch=each) for each in catch], BOOK)
    assert found.bycatch.verdict == "over"
    assert any("ground fished" in note for note in found.notes)


def test_an_unmeasured_dropper_elsewhere_leaves_the_heights():
    broken = (*RIG.droppers[:-1], replace(RIG.droppers[-1], length=None))
    found = tune(
        RIG.with_(droppers=broken), [Tow(1.5, dict.fromkeys(PLACES[1:4], 24 * INCH))], BOOK
    )
    assert found.status == TOO_LOW
    assert found.advice
    assert all(advice.effect is None for advice in found.advice)


def test_no_tow_is_refused():
    with pytest.raises(ValueError, match="No tow"):
        tune(RIG, [], BOOK)


shares = st.fixed_dictionaries(
    {CENTRE: st.floats(0, 1)},
    optional={place: st.floats(0, 1) for place in PLACES if "corner" in place},
)

# As on a net that flies too high all over, which chance seldom draws.
HARDLY_SHINING = dict.fromkeys((CENTRE, "port corner", "starboard corner"), 0.01)


@given(
    st.integers(0, 10_000),
    st.sampled_from(rulebook.gear_names()),
    st.integers(1, 3),
    st.sampled_from([1.0, 1.4, 1.8]),
    shares,
)
@example(0, "no-sweep", 1, 1.0, HARDLY_SHINING)
@example(0, "grate", 1, 1.0, HARDLY_SHINING)
@settings(max_examples=40)
def test_no_advice_ever_makes_a_legal_net_fail(seed, name, difficulty, speed, shares):
    book = rulebook.load(name)
    rig = sample.legal_rig(random.Random(seed), book, difficulty)
    shine = {place: share * dropper_at(rig, place).length for place, share in shares.items()}
    found = tune(rig, [Tow(speed, shine)], book)
    assert found.verdict.legal is True
    for advice in found.advice:
        verdict = judge(advice.rig, book)
        assert verdict.legal is True
        assert not verdict.failed_keys
        assert verdict == advice.verdict
        if advice.kind in (ADD_FLOATS, LENGTHEN_HEADROPE):
            assert found.status == TOO_LOW
            assert advice.effect is None or advice.effect.change > 0
        if advice.kind in (ADD_DROPPERS, LENGTHEN_FOOTROPE):
            assert found.status == TOO_HIGH
            assert advice.effect is None or advice.effect.change < 0
        assert advice.effect is None or not advice.effect.clear


@given(st.integers(0, 10_000), st.floats(0, 1))
@settings(max_examples=20)
def test_advice_breaks_nothing_more_on_a_net_that_already_fails(seed, share):
    rig = sample.legal_rig(random.Random(seed), BOOK, 3)
    rig = rig.with_(droppers=rig.droppers[1:])  # one wing is left a dropper short
    present = judge(rig, BOOK).failed_keys
    assert present
    shine = {place: share * dropper_at(rig, place).length for place in PLACES[1:4]}
    found = tune(rig, [Tow(1.4, shine)], BOOK)
    for advice in found.advice:
        assert judge(advice.rig, BOOK).failed_keys <= present
