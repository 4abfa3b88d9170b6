"""A net in flight as it is drawn: what is to be seen and read is what was worked out."""

import re
from itertools import pairwise
from math import dist

import numpy as np
import pytest

from rigs.drawing import svg
from rigs.drawing.in_flight import flight_from_above, flight_from_ahead, flight_from_the_side
from rigs.drawing.in_flight.lens import cut_off, largest
from rigs.drawing.scene import Circle, Line, Polygon, Polyline, Text
from rigs.drawing.styles import STYLES
from rigs.physics.flight import POINTS
from rigs.tuning.altered import LEGS
from rigs.words.units import FOOT, INCH
from tests.rigs import flying

VIEWS = [flight_from_ahead, flight_from_the_side, flight_from_above]
WITH_HEIGHTS = VIEWS[:2]
CHANGES = {
    "more floats": flying.buoyant,
    "a longer leg": flying.lopsided,
    "heavy chain": flying.lying,
    "a sweep": flying.swept,
}


@pytest.fixture
def net():
    return flying.flown(flying.net())


@pytest.fixture(params=CHANGES)
def changed(request):
    return flying.flown(CHANGES[request.param]())


@pytest.fixture(params=VIEWS, ids=lambda view: view.__name__)
def view(request):
    return request.param


def only(scene, style):
    """Return the one shape of ``style`` on ``scene`` that is no sign of the key."""
    return max(scene.of_style(style), key=lambda part: len(getattr(part, "points", ())))


def texts(scene):
    return [text.text for text in scene.texts]


def columns(scene):
    """Return the bold texts of the table under a mouth, a list for each place from the left."""
    found = {}
    for text in scene.texts:
        if text.text in {"wing end", "corner", "center"} and text.anchor == "middle":
            found[text.x] = []
    for text in scene.of_style("label-strong"):
        for x, words in found.items():
            if abs(text.x - x) < 20:
                words.append(text.text)
    return [found[x] for x in sorted(found)]


def change_of(old, new):
    """Return how a change in metres is to be written, worked out on its own."""
    whole = round((new.up - old.up) / INCH)
    return "0" if not whole else f"{'+' if whole > 0 else chr(0x2212)}{abs(whole)} in"


def lengths(scene, flown):
    """Return (across, up): drawing units to the metre, of a mouth seen from ahead."""
    line, rope = only(scene, "footrope").points, flown.rope("foot")
    across = (line[0][0] - line[-1][0]) / (rope[-1][1] - rope[0][1])
    middle, end = len(rope) // 2, 0
    up = (line[end][1] - line[middle][1]) / (rope[middle][2] - rope[end][2])
    return across, up


# What is written


@pytest.mark.parametrize("with_heights", [True, False])
def test_each_place_says_the_change_that_was_worked_out(net, changed, with_heights):
    scene = flight_from_ahead(net, changed, with_heights=with_heights)
    told = columns(scene)
    # From ahead starboard is on the left.
    for words, old, new in zip(reversed(told), net.points, changed.points, strict=True):
        if with_heights:
            assert words[-1] == change_of(old, new)
        elif new.lies:
            assert words == ["on the", "bottom"]
        else:
            assert words == [change_of(old, new)]


def test_the_height_that_a_change_leads_to_is_told_apart_from_the_change(net):
    after = flying.flown(flying.lopsided())
    scene = flight_from_ahead(net, after)
    told = [text.text for text in scene.of_style("label") if text.text.startswith("to ")]
    states = [state_of(after, point) for point in reversed(after.points)]
    assert told == [f"to {state}" for state in states if re.fullmatch(r"\d+ in", state)]
    assert told
    large = {text.size for text in scene.of_style("label-strong") if text.text.endswith(" in")}
    assert min(large) > max(text.size for text in scene.of_style("label"))


def state_of(flown, point):
    """Return how a place in flight is to be written, worked out on its own."""
    apart = [abs(each.dropper.position - point.position) for each in flown.trailing]
    if point.lies:
        return "on the bottom"
    if apart and flown.trailing[apart.index(min(apart))].shine == 0:
        return "no shine"
    inch = round(point.up / INCH)
    return f"{inch} in" if inch else "under 1 in"


def test_each_place_says_its_height_and_whether_it_lies(net, changed):
    for flown in (net, changed):
        told = reversed(columns(flight_from_ahead(flown)))
        for words, point in zip(told, flown.points, strict=True):
            assert " ".join(words) == state_of(flown, point)


def test_no_height_is_written_where_the_droppers_hang_clear(net):
    flown = flying.flown(flying.clear())
    assert columns(flight_from_ahead(flown)) == [["no", "shine"]] * 5
    assert "center no shine" in flight_from_ahead(flown).description
    changes = [words[-1] for words in columns(flight_from_ahead(net, flown))]
    assert changes[2] == change_of(net.points[2], flown.points[2])


def test_some_of_these_nets_lie_on_the_bottom_and_some_do_not_move():
    # So that the tests above see all that there is to write.
    lies = [point.lies for point in flying.flown(flying.lying()).points]
    assert any(lies)
    assert not all(lies)
    both = zip(
        flying.flown(flying.net()).points, flying.flown(flying.lopsided()).points, strict=True
    )
    assert len({change_of(old, new) for old, new in both}) > 2


@pytest.mark.parametrize("view", WITH_HEIGHTS)
def test_no_height_is_written_that_is_not_trusted(net, view):
    after = flying.flown(flying.lopsided())
    for scene in (view(net, with_heights=False), view(net, after, with_heights=False)):
        said = [*texts(scene), scene.description]
        assert not any(re.search(r"(?<![+\N{MINUS SIGN}\d])\d+ in\b", words) for words in said)
        assert "Height" not in scene.description.replace("Heights are drawn", "")
    assert "+" in " ".join(texts(view(net, flying.flown(flying.buoyant()), with_heights=False)))


def test_spread_is_written_to_the_foot_and_its_change_to_the_inch(net, changed):
    def apart(flown):
        rope = flown.rope("foot")
        return dist(rope[0], rope[-1])

    scene = flight_from_above(net, changed)
    assert f"{round(apart(changed) / FOOT)} ft" in texts(scene)
    whole = round((apart(changed) - apart(net)) / INCH)
    sign = "+" if whole > 0 else "\N{MINUS SIGN}"
    assert (f"{sign}{abs(whole)} in" if whole else "0") in texts(scene)
    bare = flight_from_above(net, changed, with_heights=False)
    assert not any(words.endswith(" ft") for words in texts(bare))


@pytest.mark.parametrize("name", CHANGES)
@pytest.mark.parametrize("view", WITH_HEIGHTS)
def test_an_arrow_points_the_way_that_the_sign_says(net, name, view):
    scene = view(net, flying.flown(CHANGES[name]()))
    signs = [text for text in scene.texts if re.match(r"[+\N{MINUS SIGN}]", text.text)]
    below = min(text.y for text in signs) - 8
    arrows = [
        part for part in scene.of_style("arrow-head") if min(y for __, y in part.points) > below
    ]
    assert len(arrows) == len(signs)
    for text in signs:
        near = min(arrows, key=lambda part: dist(part.points[0], (text.x, text.y)))
        (__, tip), (__, back), __ = near.points
        assert (tip < back) == text.text.startswith("+")
        assert abs((tip + back) / 2 - text.y) < 4


def test_from_the_side_both_sides_are_told_where_they_differ(net):
    alike = flight_from_the_side(net, flying.flown(flying.buoyant()))
    assert {"wing ends", "corners", "center"} <= set(texts(alike))
    after = flying.flown(flying.lopsided())
    scene = flight_from_the_side(net, after, with_heights=False)
    rows = {}
    for text in scene.of_style("label-strong"):
        rows.setdefault(text.y, []).append((text.x, text.text))
    told = [[words for __, words in sorted(row)] for __, row in sorted(rows.items())]
    port, starboard = [
        [change_of(*pair) for pair in pairs]
        for pairs in (
            list(zip(net.points, after.points, strict=True))[:3],
            list(zip(net.points, after.points, strict=True))[:1:-1],
        )
    ]
    assert told == [["port"], port, ["starboard"], starboard]


# What is drawn


def test_what_was_before_is_dashed_and_only_drawn_with_a_change(net, view):
    assert STYLES["before"].dash
    assert not STYLES["footrope"].dash
    assert not view(net).of_style("before")
    scene = view(net, flying.flown(flying.buoyant()))
    assert scene.of_style("before")
    assert {"before", "footrope, after"} <= set(texts(scene))


def test_the_dashed_line_is_the_net_before_and_the_solid_one_the_net_after(net):
    after = flying.flown(flying.buoyant())
    for old, new, sinks in ((net, after, False), (after, net, True)):
        scene = flight_from_ahead(old, new)
        across, up = lengths(scene, new)
        solid = only(scene, "footrope").points
        dashed = [part.points for part in scene.of_style("before")]
        rope = old.rope("foot")
        ropes = [line for line in dashed if len(line) == len(rope)]
        middle = len(rope) // 2
        rises = [(solid[middle][1] - line[middle][1]) / up for line in ropes]
        expected = old.rope("foot")[middle][2] - new.rope("foot")[middle][2]
        assert any(rise == pytest.approx(expected, abs=1e-6) for rise in rises)
        assert (expected > 0) == sinks


def test_heights_are_drawn_as_many_times_as_large_as_is_said(net, changed):
    for flown in (net, changed, flying.flown(flying.clear())):
        scene = flight_from_ahead(flown)
        across, up = lengths(scene, flown)
        said = re.search(r"drawn (\d+) times", scene.description)
        assert up / across == pytest.approx(int(said[1]) if said else 1)


def test_heights_from_the_side_are_drawn_as_many_times_as_large_as_is_said(net):
    scene = flight_from_the_side(net)
    line, rope = only(scene, "footrope").points, net.rope("foot")
    middle = len(rope) // 2
    along = (line[middle][0] - line[0][0]) / (rope[middle][0] - rope[0][0])
    up = (line[0][1] - line[middle][1]) / (rope[middle][2] - rope[0][2])
    assert up / along == pytest.approx(int(re.search(r"drawn (\d+) times", scene.description)[1]))


def test_from_above_it_is_to_scale_with_port_on_the_left():
    flown = flying.flown(flying.lopsided())
    line, rope = only(flight_from_above(flown), "footrope").points, flown.rope("foot")
    ratios = [
        dist(a, b) / dist(p[:2], q[:2])
        for (a, b), (p, q) in zip(pairwise(line), pairwise(rope), strict=True)
    ]
    assert ratios == pytest.approx([ratios[0]] * len(ratios))
    assert line[0][0] < line[-1][0]


def test_from_ahead_starboard_is_on_the_left():
    flown = flying.flown(flying.lopsided())
    scene = flight_from_ahead(flown)
    line = only(scene, "footrope").points
    left, right = (f(line)[1] for f in (min, max))
    assert flown.points[-1].up < flown.points[0].up
    assert left > right  # starboard is lower, and y runs down
    names = {text.text: text.x for text in scene.texts if text.text in {"port", "starboard"}}
    assert names["starboard"] < names["port"]


def test_its_data_say_where_one_may_take_hold_of_it():
    flown = flying.flown(flying.lopsided())
    scene = flight_from_ahead(flown)
    data = dict(scene.data)
    floats = [tuple(map(float, pair.split(","))) for pair in data["floats"].split()]
    head = only(scene, "headrope").points
    # Port first, and from ahead port is on the right.
    assert [x for x, __ in floats] == sorted((x for x, __ in floats), reverse=True)
    for place, end in (
        (floats[0], head[0]),
        (floats[2], head[len(head) // 2]),
        (floats[4], head[-1]),
    ):
        assert place == pytest.approx(end, abs=0.1)
    legs = [tuple(map(float, pair.split(","))) for pair in data["legs"].split()]
    assert len(legs) == len(LEGS)
    drawn = [part.points for part in scene.of_style("leg")]
    for (side, which), (x, y) in zip(LEGS, legs, strict=True):
        assert (x > 180) == (side == "port")
        other = legs[LEGS.index((side, "bottom"))]
        assert which == "bottom" or y < other[1]
        assert any(
            (x, y) == pytest.approx(((a[0] + b[0]) / 2, (a[1] + b[1]) / 2), abs=0.1)
            for a, *__, b in drawn
        )
    assert "sweep" not in data
    assert "sweep" in dict(flight_from_ahead(flying.flown(flying.swept())).data)


def test_its_parts_lie_over_one_another_as_they_do_in_the_sea(net):
    scene = flight_from_ahead(net)
    head, foot = only(scene, "headrope").points, only(scene, "footrope").points
    bed = min(y for __, y in only(scene, "seabed").points)
    assert min(y for __, y in head) < min(y for __, y in foot) < bed
    assert max(y for __, y in foot) < bed
    side = flight_from_the_side(net)
    order = [
        min(x for part in side.of_style("leg") for x, __ in part.points),
        only(side, "footrope").points[0][0],
        max(x for x, __ in only(side, "footrope").points),
        max(x for part in side.of_style("netting") for x, __ in part.points),
    ]
    assert order == sorted(order)


def test_every_float_and_every_dropper_is_there(net, view):
    scene = view(net)
    # The key has one of each.
    assert len(scene.of_style("float")) == len(net.rig.floats) + 1
    assert len(scene.of_style("dropper")) == len(net.rig.droppers) + 1


def test_a_net_worked_out_by_half_is_drawn_whole_and_alike(net):
    assert net.built.half
    for view, style in ((flight_from_ahead, "footrope"), (flight_from_above, "headrope")):
        line = np.array(only(view(net), style).points)
        assert line[::-1] * [-1, 1] + [360, 0] == pytest.approx(line)
        for part in ("netting", "belly", "leg", "float"):
            drawn = view(net).of_style(part)
            if part == "float":
                drawn = drawn[: len(net.rig.floats)]  # the key's own comes after them
            across = sorted(x for each in drawn for x, __ in _points(each))
            assert [360 - x for x in reversed(across)] == pytest.approx(across), part


def test_droppers_reach_the_bottom_and_as_much_is_bright_as_drags(net):
    scene = flight_from_ahead(net)
    bed = min(y for __, y in only(scene, "seabed").points)
    across, __ = lengths(scene, net)
    lies = [line for line in scene.of_style("shine") if line.y1 == pytest.approx(bed)]
    assert [abs(line.x2 - line.x1) / across for line in lies] == pytest.approx(
        [each.shine for each in net.trailing]
    )
    side = flight_from_the_side(net)
    ground = min(y for __, y in only(side, "seabed").points)
    chains = [part for part in side.of_style("dropper-chain") if isinstance(part, Polyline)]
    knots = [(dot.x, dot.y) for dot in side.of_style("dropper")]
    assert len(chains) == len(net.trailing)
    for chain, knot in zip(chains, knots, strict=False):
        assert chain.points[0] == pytest.approx(knot, abs=0.3)
        assert chain.points[-1][1] == pytest.approx(ground)
        assert chain.points[-1][0] > chain.points[0][0]  # it trails aft


def test_droppers_that_hang_clear_end_over_the_bottom_and_nothing_is_bright():
    flown = flying.flown(flying.clear())
    assert all(each.clear for each in flown.trailing)
    for view in WITH_HEIGHTS:
        scene = view(flown)
        bed = min(y for __, y in only(scene, "seabed").points)
        assert not scene.of_style("shine")
        ends = [
            part.y2 if isinstance(part, Line) else part.points[-1][1]
            for part in scene.of_style("dropper-chain")
            if isinstance(part, Polyline) or part.y2 - part.y1 > 12
        ]
        assert len(ends) == len(flown.trailing)
        assert all(end < bed - 4 for end in ends)


def test_a_sweep_is_drawn_under_the_net_and_its_droppers_reach_it(view):
    flown = flying.flown(flying.swept())
    scene = view(flown)
    line = only(scene, "sweep")
    assert "sweep" in texts(scene)
    chains = [part for part in scene.of_style("dropper-chain") if isinstance(part, Polyline)]
    assert {chain.points[-1] for chain in chains} <= set(line.points)
    assert len(chains) == len(flown.rig.droppers)
    if view in WITH_HEIGHTS:
        foot = only(scene, "footrope").points
        assert min(y for __, y in line.points[1:-1]) > max(y for __, y in foot[1:-1]) - 12
    assert not view(flying.flown(flying.net())).of_style("sweep")


def _points(part):
    match part:
        case Line():
            return (part.x1, part.y1), (part.x2, part.y2)
        case Polyline() | Polygon():
            return part.points
        case Circle() | Text():
            return ((part.x, part.y),)


def test_nothing_lies_outside_the_drawing(net, changed, view):
    for scene in (view(net), view(net, changed), view(changed, net, with_heights=False)):
        for part in scene.parts:
            for x, y in _points(part):
                assert 0 <= x <= scene.width, part
                assert 0 <= y <= scene.height, part


# What is said


def test_the_words_name_the_change_place_by_place(net, changed):
    for view in WITH_HEIGHTS:
        scene = view(net, changed)
        assert "before and after the change" in scene.title
        told = ", ".join(
            f"{name} {change_of(old, new)}"
            for name, old, new in zip(POINTS, net.points, changed.points, strict=True)
        )
        assert f"What the change does: {told}." in scene.description
        assert "change" not in view(net).title + view(net).description
    above = flight_from_above(net, changed)
    assert "before and after the change" in above.title
    assert "What the change does between the wing ends:" in above.description


def test_the_words_say_what_lies_on_the_bottom_where_heights_are_not_written():
    lying = flying.flown(flying.lying())
    named = ", ".join(point.name for point in lying.points if point.lies)
    assert f"On the bottom: {named}." in flight_from_ahead(lying, with_heights=False).description


def test_the_same_net_is_drawn_the_same(net, view):
    again = flying.beliefs().fly(flying.buoyant(), flying.beliefs().flown(flying.net()))
    one, other = (
        svg.render(view(net, after), "figure") for after in (flying.flown(flying.buoyant()), again)
    )
    assert one == other


# Tools


def test_a_line_is_cut_off_where_it_leaves_the_drawing():
    low, high = (0, 0), (10, 10)
    assert cut_off(((5, 5), (8, 5)), low, high) == ((5, 5), (8, 5))
    assert cut_off(((5, 5), (8, 5), (12, 7), (3, 3)), low, high) == ((5, 5), (8, 5), (10, 6))
    assert cut_off(((5, 5), (15, -5)), low, high) == ((5, 5), (10, 0))


@pytest.mark.parametrize(("most", "times"), [(20, 4), (30, 3), (51, 1), (400, 1)])
def test_heights_are_drawn_as_large_as_there_is_room(most, times):
    assert largest(most, 100, (1, 2, 3, 4)) == times
