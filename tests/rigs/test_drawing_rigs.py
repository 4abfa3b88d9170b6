"""What the drawings of a rig say about it: places, distances, faults."""

from math import dist

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigs.drawing.dropper import close_up
from rigs.drawing.legs import legs_view, length_text
from rigs.drawing.marks import badge
from rigs.drawing.mouth import Mouth
from rigs.drawing.plan import plan_view
from rigs.drawing.scene import Text
from rigs.drawing.side import side_view
from rigs.drawing.straight import straight_view
from rigs.requirements import layout
from rigs.rules.judge import judge
from rigs.words.gear import SIDES, Dropper, Footrope, Headrope
from rigs.words.units import FATHOM, FOOT, INCH
from tests.rigs.drawn import BOOK, SWEEP_BOOK, overlapping, sound_rig, spoilt_rig
from tests.rigs.rig_factory import make_rig

half_feet = lambda low, high: st.integers(low * 2, high * 2).map(lambda n: n * FOOT / 2)  # noqa: E731
nets = st.builds(Footrope, half_feet(10, 30), half_feet(10, 60), half_feet(10, 60))
shares = st.floats(-0.5, 0.5)


def rig_on(rope, book=BOOK, shorter=8 * FOOT):
    return make_rig(book, footrope=rope, headrope=Headrope(rope.length - shorter))


def texts(scene):
    return [text.text for text in scene.texts]


def badges(scene):
    return {text.text for text in scene.texts if text.style == "badge-number"}


def data(part):
    return dict(part.data)


# The curve of the mouth


@given(nets, shares, shares)
@settings(max_examples=40)
def test_distances_along_the_curve_are_true(rope, a, b):
    mouth = Mouth(rope)
    start, end = sorted(rope.port_end + rope.length * (share + 0.5) for share in (a, b))
    steps = 600
    points = [mouth.point(start + (end - start) * i / steps) for i in range(steps + 1)]
    walked = sum(dist(p, q) for p, q in zip(points, points[1:], strict=False))
    assert walked == pytest.approx(end - start, rel=1e-4, abs=1e-9)


@given(nets, st.floats(0.85, 1.1))
@settings(max_examples=40)
def test_headrope_runs_between_the_wing_ends_at_its_own_length(rope, share):
    mouth = Mouth(rope)
    head = mouth.headrope(rope.length * share)
    assert head.points[0] == pytest.approx(mouth.point(rope.port_end))
    assert head.points[-1] == pytest.approx(mouth.point(rope.starboard_end))
    walked = sum(dist(p, q) for p, q in zip(head.points, head.points[1:], strict=False))
    assert walked == pytest.approx(rope.length * share, rel=1e-6)


def test_headrope_that_cannot_reach_is_still_drawn():
    mouth = Mouth(Footrope(3.0, 5.0, 5.0))
    head = mouth.headrope(0.5)
    assert head.point(-0.25) == pytest.approx(head.points[0])
    assert head.point(0.25) == pytest.approx(head.points[-1])


# Plan


@given(nets)
@settings(max_examples=40)
def test_plan_shows_each_dropper_at_its_true_place(rope):
    rig = rig_on(rope)
    scene = plan_view(rig)
    about = data(scene)
    scale = float(about["metres-per-unit"])
    x0, y0 = float(about["origin-x"]), float(about["origin-y"])
    mouth = Mouth(rope)
    dots = [dot for dot in scene.of_style("dropper") if dot.data]
    assert [data(dot)["position"] for dot in dots] == [
        pytest.approx(each.position, abs=1e-6) for each in rig.droppers
    ]
    for dot, each in zip(dots, rig.droppers, strict=True):
        x, y = mouth.point(each.position)
        assert (dot.x - x0) * scale == pytest.approx(x, abs=1e-3)
        assert (y0 - dot.y) * scale == pytest.approx(y, abs=1e-3)


@given(nets, st.sampled_from([BOOK, SWEEP_BOOK]), st.sampled_from([1, 8, 20]))
@settings(max_examples=40)
def test_no_lettering_overlaps_in_plan(rope, book, shorter):
    rig = rig_on(rope, book, shorter * FOOT)
    assert overlapping(plan_view(rig)) == []
    half = rig.with_(droppers=rig.droppers[::2])
    marked = plan_view(half, judge(half, book), ghost=rig, names=("yours", "right places"))
    assert overlapping(marked) == []


@pytest.mark.parametrize("bosom", [10, 20, 30])
@pytest.mark.parametrize("wing", [10, 24, 40, 60])
def test_ordinary_nets_lose_no_distance_to_want_of_room(bosom, wing):
    rope = Footrope(bosom * FOOT, wing * FOOT, wing * FOOT)
    said = texts(plan_view(rig_on(rope)))
    full, left = divmod(wing, 8)
    assert said.count("8 ft") >= 2 * full
    if left:
        assert said.count(f"{left} ft") >= 2
    assert {"center", "corner", "wing end", "port", "starboard"} <= set(said)


def test_plan_writes_the_odd_gap_between_floats():
    rig = rig_on(Footrope(20 * FOOT, 24 * FOOT, 24 * FOOT))
    assert "8 ft" not in texts(plan_view(rig.with_(droppers=())))
    gone = rig.with_(droppers=(), floats=rig.floats[:5] + rig.floats[6:])
    assert "8 ft" in texts(plan_view(gone))


def test_ghost_is_rings_and_the_rig_is_dots_with_words_for_both():
    rig = sound_rig()
    other = rig.with_(droppers=rig.droppers[1:])
    scene = plan_view(rig, ghost=other, names=("right places", "yours"))
    rings = [ring for ring in scene.of_style("ghost") if ring.data]
    assert len(rings) == len(other.droppers)
    assert {"right places", "yours"} <= set(texts(scene))
    assert "Rings, yours" in scene.description


def test_doubled_and_weighted_droppers_look_so():
    rig = sound_rig()
    single = len(plan_view(rig).of_style("dropper-chain"))
    doubled = rig.with_(droppers=tuple(Dropper(d.position, 1.1, 0.008, 2) for d in rig.droppers))
    assert len(plan_view(doubled).of_style("dropper-chain")) == single + len(rig.droppers)
    assert not plan_view(rig).of_style("weight")
    weighted = spoilt_rig("dropper_bare")
    assert len(plan_view(weighted).of_style("weight")) == 1


@pytest.mark.parametrize(
    "key",
    ["dropper_spacing", "dropper_bare", "dropper_stock", "dropper_at_centre", "dropper_at_corners"],
)
@pytest.mark.parametrize("seed", range(4))
def test_a_failing_dropper_is_marked_by_shape_and_number(key, seed):
    rig = spoilt_rig(key, seed=seed)
    verdict = judge(rig, BOOK)
    assert verdict.failed_keys == {key}
    title = verdict.finding(key).title
    straight = straight_view(rig.footrope, rig.droppers, verdict)
    for scene in (plan_view(rig, verdict), straight):
        assert scene.of_style("fault") or scene.of_style("fault-stretch")
        numbers = [t for t in scene.texts if t.style == "badge-number"]
        assert len(numbers) >= 2  # one on the drawing, one in the key
        assert any(title in line or line in title for line in texts(scene))
        assert title in scene.description


@pytest.mark.parametrize("key", ["float_diameter", "float_spacing"])
def test_a_failing_float_is_marked_on_the_headrope(key):
    rig = spoilt_rig(key)
    scene = plan_view(rig, judge(rig, BOOK))
    assert scene.of_style("fault") or scene.of_style("fault-stretch")
    assert badges(scene) == {"1"}


def test_a_sound_rig_carries_no_fault_marks():
    rig = sound_rig()
    scene = plan_view(rig, judge(rig, BOOK))
    assert not scene.of_style("fault")
    assert not scene.of_style("fault-stretch")
    assert not badges(scene)


@pytest.mark.parametrize(
    "changes",
    [
        {"droppers": None, "floats": None},
        {"droppers": (), "floats": ()},
        {"headrope": Headrope(None), "floats": None},
        {"footrope": Footrope(0.0, 5.0, 5.0)},
        {"footrope": Footrope(6.0, 0.0, 0.0)},
        {"footrope": Footrope(0.0, 0.0, 5.0), "headrope": Headrope(9.0)},
        {"footrope": Footrope(0.0, 0.0, 0.0)},
        {"footrope": Footrope(6.0, 0.0, 12.3)},
    ],
)
def test_plan_draws_what_is_known_of_an_unfinished_rig(changes):
    rig = sound_rig().with_(**changes)
    scene = plan_view(rig, judge(rig, BOOK))
    assert scene.of_style("footrope")
    assert overlapping(scene) == []


# Straight


@given(nets)
@settings(max_examples=40)
def test_straight_view_gives_scripts_its_scale(rope):
    droppers = layout.droppers(rope, BOOK, 42 * INCH, 3 / 8 * INCH)
    scene = straight_view(rope, droppers)
    about = {name: float(value) for name, value in scene.data}
    dots = [dot for dot in scene.of_style("dropper") if dot.data]
    assert len(dots) == len(droppers)
    for dot, each in zip(dots, droppers, strict=True):
        metres = (dot.x - about["origin-x"]) * about["metres-per-unit"]
        assert metres == pytest.approx(each.position, abs=1e-3)
        assert dot.y == about["rope-y"]
    assert about["port-end"] == pytest.approx(rope.port_end, abs=1e-6)
    assert about["starboard-corner"] == pytest.approx(rope.starboard_corner, abs=1e-6)
    assert overlapping(scene) == []


@given(nets)
@settings(max_examples=40)
def test_the_scale_counts_feet_from_the_center(rope):
    scene = straight_view(rope)
    about = {name: float(value) for name, value in scene.data}
    numbers = [t for t in scene.texts if t.text.isdigit()]
    assert len(numbers) >= 3
    for number in numbers:
        feet = abs(number.x - about["origin-x"]) * about["metres-per-unit"] / FOOT
        assert feet == pytest.approx(int(number.text), abs=1e-2)


def test_straight_view_leaves_out_what_fails_elsewhere():
    rig = spoilt_rig("float_diameter")
    scene = straight_view(rig.footrope, rig.droppers, judge(rig, BOOK))
    assert not badges(scene)
    assert "Float" not in scene.description


def test_bare_footrope_gives_no_dropper_away():
    scene = straight_view(sound_rig().footrope)
    assert not scene.of_style("dropper")
    assert "8 ft" not in texts(scene)


def test_straight_view_refuses_no_rope():
    with pytest.raises(ValueError, match="without length"):
        straight_view(Footrope(0.0, 0.0, 0.0))


def test_straight_view_takes_the_width_it_is_given():
    scene = straight_view(sound_rig().footrope, width=720)
    assert scene.width == 720
    assert max(p.x2 for p in scene.of_style("footrope")) > 680


# Side


def test_side_view_draws_a_sweep_only_if_there_is_one():
    assert not side_view(sound_rig()).of_style("sweep")
    assert side_view(sound_rig(5, SWEEP_BOOK)).of_style("sweep")


def test_side_view_writes_the_height_only_if_told():
    assert "1 ft 6 in" in texts(side_view(sound_rig(), height=18 * INCH))
    assert not [t for t in texts(side_view(sound_rig())) if any(c.isdigit() for c in t)]


def test_side_view_can_leave_life_out():
    assert side_view(sound_rig()).of_style("fish")
    bare = side_view(sound_rig(), life=False)
    assert not bare.of_style("fish")
    assert "Fish" not in bare.description


# One dropper


def test_close_up_measures_length_shine_and_the_rest():
    said = texts(close_up(Dropper(0, 42 * INCH, 3 / 8 * INCH), shine=14 * INCH))
    assert {"42 in", "14 in", "28 in", "3/8 in chain"} <= set(said)


def test_shine_brightens_its_share_of_the_links():
    whole = Dropper(0, 40 * INCH, 3 / 8 * INCH)
    bright = [len(close_up(whole, shine=s * INCH).of_style("shine")) for s in (0, 10, 20, 40)]
    assert bright[0] == 0
    assert bright == sorted(bright)
    links = len([p for p in close_up(whole).of_style("link") if hasattr(p, "points")])
    assert bright[-1] == links
    assert bright[2] == pytest.approx(links / 2, abs=1)


@pytest.mark.parametrize(("length", "shine"), [(None, 0.1), (1.0, 1.1), (1.0, -0.1)])
def test_close_up_refuses_a_shine_that_cannot_be(length, shine):
    with pytest.raises(ValueError, match="shine"):
        close_up(Dropper(0, length, 0.0095), shine)


def test_close_up_says_what_was_not_measured():
    assert "chain, size not measured" in texts(close_up(Dropper(0, None, None)))


# Legs


def test_legs_view_writes_every_wire():
    rig = make_rig(BOOK)
    said = texts(legs_view(rig))
    assert said.count("30 fm, 3/4 in") == 2
    assert said.count("10 fm, 1/2 in") == 2
    assert said.count("10 fm, 5/8 in") == 2
    assert said.count("door to wing end 40 fm") == 2


@pytest.mark.parametrize(
    "key",
    [
        "ground_gear_bare",
        "top_leg_wire",
        "bottom_leg_wire",
        "ground_cable_wire",
        "legs_equal",
        "legs_not_extended",
        "door_to_wing_end",
    ],
)
def test_a_failing_wire_is_marked_on_its_own_side(key):
    rig = spoilt_rig(key)
    verdict = judge(rig, BOOK)
    (spot,) = verdict.finding(key).spots
    side = getattr(spot, "side", None) or spot.split()[0]
    scene = legs_view(rig, verdict)
    on_drawing, in_key = (t for t in scene.texts if t.style == "badge-number")
    heads = {t.text: t.y for t in scene.texts if t.text in SIDES}
    below_starboard = on_drawing.y > heads["starboard"]
    assert below_starboard == (side == "starboard")
    assert in_key.y > on_drawing.y
    assert overlapping(scene) == []


def test_legs_view_lists_no_fault_of_another_part():
    rig = spoilt_rig("dropper_spacing")
    assert not badges(legs_view(rig, judge(rig, BOOK)))


def test_lengths_are_fathoms_when_round_and_feet_when_not():
    assert length_text(10 * FATHOM) == "10 fm"
    assert length_text(10.5 * FATHOM) == "10.5 fm"
    assert length_text(10 * FATHOM - 5 * INCH) == "59 ft 7 in"
    assert length_text(None) == "not measured"


def test_badge_is_a_shape_with_a_number():
    shape, number = badge(3, 10, 20)
    assert len(shape.points) == 8
    assert isinstance(number, Text)
    assert number.text == "3"
