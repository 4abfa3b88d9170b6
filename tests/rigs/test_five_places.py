"""A net of which only five heights are known: what is drawn and written are these, and no more."""

import pytest

from rigs.drawing.in_flight import five_places
from rigs.drawing.scene import Circle, Line, Polygon, Polyline
from rigs.physics.flight import POINTS
from rigs.physics.practice import FOOTROPE_HEIGHT
from rigs.words.units import INCH
from tests.rigs import flying

RIG, SPEED = flying.net(), flying.SPEED
UNEVEN = tuple(inch * INCH for inch in (21, 19, 15, 11, 6))  # port to starboard
SHINE = tuple(inch * INCH for inch in (14, 16, 21, 26, 31))
LEVEL = (18 * INCH,) * 5


def drawn(heights, rig=RIG, **more):
    return five_places(rig, heights, FOOTROPE_HEIGHT, speed=SPEED, **more)


def footrope(scene):
    (rope,) = (part for part in scene.of_style("footrope") if isinstance(part, Polyline))
    return rope.points


def bed(scene):
    """Return where the bottom begins."""
    (ground,) = scene.of_style("seabed")
    return min(y for __, y in ground.points)


def knots(scene):
    """Return the droppers' knots but that of the key, from the left."""
    found = [part for part in scene.of_style("dropper") if isinstance(part, Circle)]
    return sorted(((each.x, each.y) for each in found if each.y < bed(scene)), key=lambda at: at[0])


def feet(scene):
    """Return how far over the bottom each dropper ends, in drawing units."""
    chains = [part for part in scene.of_style("dropper-chain") if isinstance(part, Line)]
    return [bed(scene) - each.y2 for each in chains if each.y1 < bed(scene)]


def to_inches(scene, y):
    """Return the height of ``y`` by the drawing's own band from 12 to 24 in."""
    band = max(scene.of_style("area-open"), key=height_of)
    high, low = min(y for __, y in band.points), max(y for __, y in band.points)
    return (bed(scene) - y) / (low - high) * 12


def height_of(shape):
    ys = [y for __, y in shape.points]
    return max(ys) - min(ys)


def test_the_footrope_is_at_its_heights_with_starboard_on_the_left():
    scene = drawn(UNEVEN)
    rope = footrope(scene)
    assert to_inches(scene, max(rope)[1]) == pytest.approx(21)
    assert to_inches(scene, min(rope)[1]) == pytest.approx(6)
    corners = [part for part in scene.of_style("corner") if isinstance(part, Polygon)]
    middles = sorted(sum(x for x, __ in each.points) / 4 for each in corners)
    left, *__, right = [y for x, y in rope if any(abs(x - at) < 1e-6 for at in middles)]
    assert {round(to_inches(scene, y)) for y in (left, right)} == {19, 11}
    names = {text.text: text.x for text in scene.texts if text.text in {"port", "starboard"}}
    assert names["starboard"] < names["port"]


def test_each_height_is_written_and_told():
    scene = drawn(UNEVEN)
    written = [
        text.text for text in sorted(scene.of_style("label-strong"), key=lambda text: text.x)
    ]
    assert [each for each in written if each.endswith(" in")] == [
        f"{inch} in" for inch in (6, 11, 15, 19, 21)
    ]
    told = zip(POINTS, (21, 19, 15, 11, 6), strict=True)
    assert all(f"{name} {inch} in" in scene.description for name, inch in told)


def test_a_change_is_written_with_its_way_and_what_was_before_is_dashed():
    assert not drawn(LEVEL).of_style("before")
    scene = drawn(LEVEL, before=UNEVEN)
    signs = [text.text for text in sorted(scene.texts, key=lambda text: text.x)]
    minus = "\N{MINUS SIGN}"
    changes = [each for each in signs if each[0] in f"+{minus}"]
    assert changes == ["+12 in", "+7 in", "+3 in", f"{minus}1 in", f"{minus}3 in"]
    dashed = max(scene.of_style("before"), key=lambda part: len(part.points)).points
    assert dashed == footrope(drawn(UNEVEN))


def test_a_dropper_hangs_wherever_one_is_on_the_rig():
    assert len(knots(drawn(LEVEL))) == len(RIG.droppers)
    bare = RIG.with_(droppers=RIG.droppers[::2])
    assert len(knots(drawn(LEVEL, bare))) == len(RIG.droppers[::2])


def test_droppers_reach_the_bottom_until_the_footrope_is_too_high():
    assert feet(drawn(LEVEL)) == pytest.approx([0.0] * len(RIG.droppers))
    assert all(foot > 0 for foot in feet(drawn((60 * INCH,) * 5)))


def test_shine_is_drawn_and_said_only_where_it_is_known():
    assert len(drawn(UNEVEN, shine=SHINE).of_style("shine")) == len(RIG.droppers) + 1  # the key's
    assert "drags" in drawn(UNEVEN, shine=SHINE).description
    assert not drawn(UNEVEN).of_style("shine")
    assert "drags" not in drawn(UNEVEN).description


def test_what_lies_on_the_bottom_says_so():
    scene = drawn((0.1 * INCH, *LEVEL[1:]), before=LEVEL)
    assert "port wing end on the bottom" in scene.description
    assert all(y <= bed(scene) for __, y in footrope(scene))


def test_all_drawings_are_to_one_scale():
    low, high = footrope(drawn((6 * INCH,) * 5)), footrope(drawn((12 * INCH,) * 5))
    assert bed(drawn(LEVEL)) - low[0][1] == pytest.approx(low[0][1] - high[0][1])
