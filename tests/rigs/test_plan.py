"""A plan makes a net legal, or says plainly why it cannot."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigs.physics import chain
from rigs.plan import KINDS, MOVED, NEW, STAYS, Choices, chain_options, default_choices, plan
from rigs.plan.steps import CUTTING
from rigs.rules import rulebook
from rigs.words.gear import (
    SIDES,
    Codend,
    Dropper,
    Float,
    Footrope,
    Grate,
    GroundCable,
    Headrope,
    Leg,
    Rig,
    Sweep,
)
from rigs.words.units import FATHOM, FOOT, INCH
from tests.rigs.rig_factory import footropes, make_rig

NO_SWEEP = rulebook.load("no-sweep", "1")
WHITING = rulebook.load("whiting", "1")
books = st.sampled_from([NO_SWEEP, rulebook.load("grate", "1")])

# What a plan takes in hand; everything else it leaves and tells.
IN_HAND = {
    "no_sweep",
    "off_bottom",
    "dropper_bare",
    "dropper_stock",
    "dropper_length",
    "dropper_at_centre",
    "dropper_at_corners",
    "dropper_spacing",
    "float_diameter",
    "float_spacing",
}


def maybe(strategy):
    return st.none() | strategy


sizes = st.sampled_from([n / 16 * INCH for n in (4, 5, 6, 8, 9, 10, 12, 14)])
lengths = st.floats(0.1, 80)
flags = st.sampled_from([True, False, None])
droppers = st.builds(
    Dropper,
    st.floats(-30, 30),
    maybe(st.floats(0.2, 3)),
    maybe(sizes),
    st.sampled_from([1, 2]),
    flags,
    maybe(st.floats(-30, 30)),
)
floats = st.builds(Float, st.floats(-25, 25), maybe(st.floats(0.1, 0.4)))
nets = st.builds(
    Rig,
    st.builds(Headrope, maybe(st.floats(1, 60))),
    footropes,
    maybe(st.lists(droppers, max_size=12).map(tuple)),
    maybe(st.lists(floats, max_size=20).map(tuple)),
    st.sampled_from([(), SIDES]).flatmap(
        lambda sides: st.tuples(
            *(
                st.builds(
                    Leg,
                    st.just(side),
                    maybe(lengths),
                    maybe(lengths),
                    maybe(sizes),
                    maybe(sizes),
                    flags,
                    flags,
                )
                for side in sides
            )
        )
    ),
    st.sampled_from([(), SIDES]).flatmap(
        lambda sides: st.tuples(
            *(
                st.builds(GroundCable, st.just(side), maybe(lengths), maybe(sizes), flags)
                for side in sides
            )
        )
    ),
    maybe(st.builds(Sweep, maybe(lengths), maybe(lengths), maybe(sizes), flags, flags)),
    maybe(st.builds(Codend, maybe(st.floats(0.03, 0.1)), maybe(st.integers(1, 300)))),
    maybe(st.builds(Grate, maybe(st.floats(0.02, 0.1)), maybe(lengths), maybe(lengths), flags)),
    maybe(st.floats(5, 40)),
)
choices = st.builds(Choices, sizes, st.sampled_from([1, 2]), st.floats(0.3, 3), st.floats(0.1, 0.4))


@settings(max_examples=400)
@given(nets, books)
def test_any_net_ends_up_legal_or_is_told_why_not(rig, book):
    made = plan(rig, book, default_choices(rig, book), fishery=WHITING)
    if made.legal is not True:
        assert made.failed or made.unknown
        # Each thing in the way is told in a step that says what to do about it.
        keys = {step.key: step for step in made.steps}
        for finding in made.failed:
            assert finding.remedy
            assert finding.remedy in keys[f"set_{finding.key}"].text
        for finding in made.unknown:
            assert finding.title[1:] in keys["look"].text
            assert finding.allowed_text in keys["look"].text
    else:
        assert not made.failed + made.unknown
    # What the plan takes in hand it also puts right.
    assert not {finding.key for finding in made.failed} & IN_HAND
    unknown = {finding.key for finding in made.unknown} & IN_HAND
    entered = (
        rig.headrope.length is not None
        and rig.floats is not None
        and None not in [each.diameter for each in rig.floats]
    )
    assert unknown <= (set() if entered else {"float_diameter", "float_spacing"})


@settings(max_examples=200)
@given(nets, books, choices)
def test_an_unlawful_choice_is_told_too(rig, book, chosen):
    made = plan(rig, book, chosen)
    stock = made.after.finding("dropper_stock")
    assert stock.failed == (chosen.chain > 3 / 8 * INCH + 1e-9)
    assert made.after.finding("dropper_length").failed == (chosen.length < 42 * INCH - 1e-9)


@settings(max_examples=200)
@given(nets, books)
def test_steps_come_in_an_order_in_which_they_can_be_done(rig, book):
    made = plan(rig, book, default_choices(rig, book))
    keys = [step.key for step in made.steps]
    assert len(set(keys)) == len(keys)
    done = set()
    for step in made.steps:
        assert step.kind in KINDS
        assert set(step.after) <= done
        done.add(step.key)
    assert keys[-1] == "measure"
    assert ("cut_sweep" in keys) == (rig.sweep is not None)


@settings(max_examples=100)
@given(nets, books)
def test_a_converted_net_needs_nothing_more_hung(rig, book):
    first = plan(rig, book, default_choices(rig, book))
    again = plan(first.planned, book, first.choices)
    assert all(place.stays for place in again.placements)
    assert not again.shopping
    assert again.weights.off == again.weights.on_droppers == 0
    assert again.planned == first.planned


def sweep_net():
    """Return a 52 ft footrope on a chain sweep, whose droppers hang nowhere near right."""
    rope = Footrope(16 * FOOT, 16 * FOOT, 20 * FOOT)
    hung = tuple(
        Dropper(at * FOOT, 12 * INCH, 3 / 8 * INCH, sweep_position=at * FOOT)
        for at in (-20, -10, 0, 10, 20)
    )
    return make_rig(NO_SWEEP, footrope=rope).with_(
        sweep=Sweep(27 * FOOT, 31 * FOOT, 3 / 8 * INCH), droppers=hung
    )


def test_a_sweep_net_is_planned_in_full():
    rig = sweep_net()
    made = plan(rig, NO_SWEEP, default_choices(rig, NO_SWEEP))
    assert made.now.legal is False
    assert made.legal is True
    # Center, two corners, two to port (16 ft of wing) and two to starboard (20 ft).
    at = [round(place.position / FOOT, 9) for place in made.placements]
    assert at == [-24, -16, -8, 0, 8, 16, 24]
    outer = made.placements[-1]
    assert outer.from_center == pytest.approx(24 * FOOT)
    assert outer.from_starboard_corner == pytest.approx(16 * FOOT)
    assert outer.from_port_corner == pytest.approx(32 * FOOT)
    assert [step.key for step in made.steps] == [
        "mark_sweep",
        "mark_places",
        "cut_sweep",
        "take_off",
        "hang",
        "check",
        "measure",
    ]
    told = " ".join(step.text for step in made.steps)
    for number in ("58 ft", "all 5 droppers", "8 ft from the center", "42 in", "4 ft left"):
        assert number in told


def test_shopping_and_weights_follow_from_the_chain_that_hangs():
    rig = sweep_net()
    made = plan(rig, NO_SWEEP, default_choices(rig, NO_SWEEP))
    chain_item, shackles = made.shopping
    assert (chain_item.count, shackles.count) == (7, 7)
    # Up to two links of 1.38 in over each 42 in, then whole feet: 7 * 44.76 in is 26.1 ft.
    assert chain_item.metres == pytest.approx(27 * FOOT)
    per_metre = chain.mass_per_metre(chain.STOCKS["3/8 in"])
    assert chain_item.mass == pytest.approx(27 * FOOT * per_metre)
    assert made.weights.off_sweep == pytest.approx(58 * FOOT * per_metre)
    assert made.weights.off_droppers == pytest.approx(5 * FOOT * per_metre)
    assert made.weights.change == pytest.approx((24.5 - 58 - 5) * FOOT * per_metre)
    # Steel keeps 1 - 1025/7850 of its weight in sea water.
    assert made.weights.in_water(1.0) == pytest.approx(0.869, abs=5e-4)


def test_droppers_in_place_stay_and_are_not_bought():
    rig = make_rig(NO_SWEEP)
    rig = rig.with_(droppers=rig.droppers[1:], sweep=Sweep(30 * FOOT, 32 * FOOT, 5 / 16 * INCH))
    made = plan(rig, NO_SWEEP, default_choices(rig, NO_SWEEP))
    assert [place.stays for place in made.placements].count(False) == 1
    assert made.shopping[0].count == 1
    assert "take_off" not in [step.key for step in made.steps]


def test_extra_droppers_on_a_legal_net_stay():
    rig = make_rig(NO_SWEEP)
    extra = replace(rig.droppers[0], position=4 * FOOT)
    hung = tuple(sorted((*rig.droppers, extra), key=lambda each: each.position))
    made = plan(rig.with_(droppers=hung), NO_SWEEP, default_choices(rig, NO_SWEEP))
    assert made.planned.droppers == hung
    assert "4 ft to starboard of the center" in [place.name for place in made.placements]
    assert not made.shopping


def test_large_floats_stay_and_small_ones_are_replaced():
    rig = make_rig(NO_SWEEP, headrope=Headrope(32 * FOOT))
    mixed = tuple(
        Float(each.position, (6 if i % 2 else 8) * INCH) for i, each in enumerate(rig.floats)
    )
    made = plan(rig.with_(floats=mixed), NO_SWEEP, default_choices(rig, NO_SWEEP))
    (item,) = made.shopping
    assert (item.key, item.count) == ("floats", 4)
    assert made.legal is True


def test_good_droppers_are_moved_and_not_bought_again():
    rig = sweep_net()
    hung = tuple(replace(each, length=42 * INCH) for each in rig.droppers)
    made = plan(rig.with_(droppers=hung), NO_SWEEP, Choices(3 / 8 * INCH, 1, 42 * INCH, 8 * INCH))
    sources = [place.source for place in made.placements]
    # Of 5 the one at the center hangs right, 4 are moved, and 2 of 7 places are left.
    assert [sources.count(source) for source in (STAYS, MOVED, NEW)] == [1, 4, 2]
    chain_item, shackles = made.shopping
    assert (chain_item.count, shackles.count) == (2, 2)
    texts = {step.key: step.text for step in made.steps}
    assert "Keep 4 of them at hand" in texts["take_off"]
    assert "Use the 4 good droppers you took off first" in texts["hang"]
    assert made.weights.off_droppers == 0


@pytest.mark.parametrize(
    "change",
    [
        {"bare": False},
        {"bare": None},
        {"length": 41 * INCH},
        {"length": None},
        {"diameter": 1 / 2 * INCH},
        {"diameter": None},
        {"count": 2},
    ],
)
def test_what_is_not_known_to_be_good_is_not_used_again(change):
    rig = make_rig(NO_SWEEP)
    chosen = Choices(3 / 8 * INCH, 1, 42 * INCH, 8 * INCH)
    worse = (replace(rig.droppers[0], **change), *rig.droppers[1:])
    made = plan(rig.with_(droppers=worse), NO_SWEEP, chosen)
    assert [place.source for place in made.placements].count(NEW) == 1
    assert made.shopping[0].count == 1
    # What may be good is asked for, and what only custom finds too short; nothing else is.
    assert bool(made.to_ask) == (None in change.values() or "length" in change)


def test_allowed_droppers_of_another_chain_are_not_passed_over_in_silence():
    rig = make_rig(NO_SWEEP)
    made = plan(rig, NO_SWEEP, Choices(5 / 16 * INCH, 1, 42 * INCH, 8 * INCH))
    assert [place.source for place in made.placements] == [NEW] * 7
    assert "7 of another chain than you chose would do too" in made.to_ask[0]
    assert not plan(rig, NO_SWEEP, default_choices(rig, NO_SWEEP)).to_ask


def test_long_droppers_are_cut_down_and_used():
    rig = make_rig(NO_SWEEP)
    chosen = Choices(3 / 8 * INCH, 1, 42 * INCH, 8 * INCH)
    lengths = (42, 43, 48)  # links are 1.38 in: from 43 in none can be taken off
    hung = tuple(replace(each, length=lengths[i % 3] * INCH) for i, each in enumerate(rig.droppers))
    made = plan(rig.with_(droppers=hung), NO_SWEEP, chosen)
    assert not made.shopping
    assert {round(each.length / INCH) for each in made.planned.droppers} == {42, 43}
    (step,) = (step for step in made.steps if step.kind == "cut")
    assert step.title == "Cut 2 droppers down to 42 in"
    assert step.caution == CUTTING
    per_metre = chain.mass_per_metre(chain.STOCKS["3/8 in"])
    assert made.weights.off_droppers == pytest.approx(2 * 6 * INCH * per_metre)


def test_floats_that_were_not_entered_are_asked_for_and_not_sold():
    rig = make_rig(NO_SWEEP, headrope=Headrope(34 * FOOT))
    chosen = default_choices(rig, NO_SWEEP)
    made = plan(rig.with_(floats=None), NO_SWEEP, chosen)
    assert not made.shopping
    # 34 ft in gaps of 4 ft at most: 9 gaps, 10 floats.
    assert "needs 10 or more, each 8 in* across" in made.to_ask[0]
    assert {"float_diameter", "float_spacing"} <= {finding.key for finding in made.unknown}
    some = tuple(replace(each, diameter=None) for each in rig.floats[:6])
    made = plan(rig.with_(floats=some), NO_SWEEP, chosen)
    (item,) = made.shopping
    assert (item.key, item.count) == ("floats", 4)
    assert "6 not measured" in made.to_ask[0]
    assert "Measure the 6 others" in {step.key: step.text for step in made.steps}["set_floats"]


def test_a_warning_stands_before_each_cut():
    made = plan(sweep_net(), NO_SWEEP, default_choices(sweep_net(), NO_SWEEP))
    warned = [step.key for step in made.steps if step.caution]
    assert warned == ["cut_sweep", "take_off", "hang"]
    for words in ("goggles", "gloves", "netting", "water"):
        assert words in CUTTING


def test_the_custom_is_told_apart_from_the_rules():
    rig = sweep_net()
    for book in (NO_SWEEP, rulebook.load("grate", "1")):
        texts = " ".join(s.text for s in plan(rig, book, default_choices(rig, book)).steps)
        # 42 in is asked for by 50 CFR 648.80(a)(16)(ii)(B), and by no clause of (a)(9)(ii).
        assert ("By custom" in texts) == ("(by custom)" in texts) == (book is NO_SWEEP)


def test_allowed_chain_that_is_not_chosen_is_not_called_wrong():
    rig = make_rig(NO_SWEEP)
    made = plan(rig, NO_SWEEP, Choices(1 / 4 * INCH, 1, 42 * INCH, 8 * INCH))
    (off,) = (step for step in made.steps if step.key == "take_off")
    assert "not of the chain and length that you will hang" in off.text
    assert "wrong chain" not in off.text


def test_droppers_shorter_than_the_custom_may_be_kept():
    rig = make_rig(NO_SWEEP)
    hung = tuple(replace(each, length=36 * INCH) for each in rig.droppers)
    rig = rig.with_(droppers=hung)
    made = plan(rig, NO_SWEEP, Choices(3 / 8 * INCH, 1, 36 * INCH, 8 * INCH))
    assert made.legal is True
    assert not made.failed + made.unknown
    assert [finding.key for finding in made.off_custom] == ["dropper_length"]
    assert made.planned.droppers == hung


def test_droppers_that_only_custom_finds_short_are_not_thrown_out_in_silence():
    rig = make_rig(NO_SWEEP)
    rig = rig.with_(droppers=tuple(replace(each, length=41 * INCH) for each in rig.droppers))
    as_custom = plan(rig, NO_SWEEP, default_choices(rig, NO_SWEEP))
    assert "7 shorter than 42 in. Only custom asks for 42 in" in as_custom.to_ask[0]
    as_now = plan(rig, NO_SWEEP, Choices(3 / 8 * INCH, 1, 41 * INCH, 8 * INCH))
    assert not as_now.to_ask + as_now.shopping
    (check,) = (step for step in as_now.steps if step.key == "check")
    assert "No dropper under 41 in, as you chose (by custom 42 in)." in check.text


def test_the_mark_of_a_limit_stands_in_the_sentence_that_tells_it():
    rig = make_rig(NO_SWEEP)
    rig = rig.with_(
        legs=(),
        ground_cables=tuple(replace(each, length=41 * FATHOM) for each in rig.ground_cables),
    )
    made = plan(rig, NO_SWEEP, default_choices(rig, NO_SWEEP))
    (fix,) = (step for step in made.steps if step.key == "set_door_to_wing_end")
    assert "at least 1 fm too long*. Part of it was not measured. Shorten" in fix.text


def test_a_net_short_in_the_footrope_is_told_to_fix_it():
    rig = make_rig(NO_SWEEP, headrope=Headrope(30 * FOOT))
    made = plan(rig, NO_SWEEP, default_choices(rig, NO_SWEEP))
    assert made.legal is False
    assert [finding.key for finding in made.failed + made.unknown] == ["footrope_excess"]


def test_the_fishery_is_judged_besides():
    rig = make_rig(NO_SWEEP)
    made = plan(rig, NO_SWEEP, default_choices(rig, NO_SWEEP), fishery=WHITING)
    assert made.legal is None
    assert "mesh_size" in {finding.key for finding in made.failed + made.unknown}


def test_only_a_rule_set_without_a_sweep_can_be_converted_to():
    book = rulebook.load("chain-sweep", "1")
    with pytest.raises(ValueError, match="without a sweep"):
        plan(make_rig(book), book, Choices(5 / 16 * INCH, 1, 42 * INCH, 8 * INCH))


def test_the_chain_offered_is_what_the_rules_allow():
    assert [stock.name for stock in chain_options(NO_SWEEP)] == ["1/4 in", "5/16 in", "3/8 in"]


def test_doubled_light_chain_is_twice_the_chain_on_the_same_shackles():
    rig = sweep_net()
    made = plan(rig, NO_SWEEP, Choices(5 / 16 * INCH, 2, 42 * INCH, 8 * INCH))
    chain_item, shackles = made.shopping
    assert (chain_item.count, shackles.count) == (14, 7)
