"""The footrope raised and lowered: how it hangs, who passes, and what the words say of it."""

import re
from itertools import pairwise
from math import hypot

import pytest

from rigs.drawing import passing, svg
from rigs.drawing.scene import Circle, Polygon
from rigs.plan.raised import HIGHEST, every, raised
from rigs.words.units import INCH
from tests.rigs.drawn import BOOK

INCHES = range(HIGHEST + 1)


def scene_at(inch):
    made = raised(BOOK, inch * INCH)
    return passing.passing_view(made.hang, made.height)


def parts(scene, name):
    return [part for part in scene.parts if dict(part.data).get("part") == name]


def reach(shapes):
    """Return the least and greatest y of polygons and circles among ``shapes``."""
    spans = [
        (shape.y - shape.r, shape.y + shape.r)
        if isinstance(shape, Circle)
        else (min(y for __, y in shape.points), max(y for __, y in shape.points))
        for shape in shapes
        if isinstance(shape, Circle | Polygon)
    ]
    return min(low for low, __ in spans), max(high for __, high in spans)


def counts(sentence):
    """Return {sort: how many} as ``sentence`` says."""
    return {sort.rstrip("s"): int(n) for n, sort in re.findall(r"(\d+) (\w+)", sentence)}


@pytest.mark.parametrize("inch", INCHES)
def test_the_dropper_hangs_from_where_the_footrope_is(inch):
    made = raised(BOOK, inch * INCH)
    assert made.clear + made.hang.points[0][1] == pytest.approx(inch * INCH, abs=1e-5)
    assert made.clear >= 0
    # Nothing of the chain is lost: what hangs and what lies make up the whole dropper.
    run = sum(hypot(x2 - x1, y2 - y1) for (x1, y1), (x2, y2) in pairwise(made.hang.points))
    assert run == pytest.approx(BOOK.requirement("dropper_length").limit, rel=0.01)


def test_the_more_it_drags_the_lower_it_is():
    shines = [each.hang.shine for each in every(BOOK)]
    assert shines == sorted(shines, reverse=True)
    assert shines[0] == pytest.approx(42 * INCH, abs=1e-5)
    assert shines[-1] == 0


def test_a_dropper_clear_of_the_bottom_hangs_as_its_weight_and_the_stream_have_it():
    # Fridman, FAO Fishing Manuals, Calculations for fishing gear designs (1986), equations 5.22
    # and 5.23 (read). Drag 2.4 of the bar: DNV-OS-E301 (memory). Chain of 3/8 in, Grade 30:
    # about 1.41 lb/ft and a bar of 10 mm, trade tables (memory). 3 knots.
    hang = raised(BOOK, 36 * INCH).hang
    down = hang.height / hang.length
    aft = (1 - down * down) ** 0.5
    weight = 1.41 * 0.4536 / 0.3048 * 9.81 * (1 - 1025 / 7850)
    drag = 0.5 * 1025 * 2.4 * 0.010 * (3 * 1852 / 3600 * down) ** 2
    assert drag == pytest.approx(weight * aft, rel=0.05)


@pytest.mark.parametrize("inch", INCHES)
def test_the_words_count_what_is_drawn_under_the_net_and_in_it(inch):
    scene = scene_at(inch)
    net = next(part for part in parts(scene, "net") if part.style == "netting")
    (x1, y1), (x2, y2) = net.points[:2]
    under, inside = {}, {}
    for number, life in enumerate(passing.LIVES):
        low, high = reach(parts(scene, f"life-{number}"))
        belly = y1 + (y2 - y1) * (life.x - x1) / (x2 - x1)
        where = under if (low + high) / 2 > belly else inside
        where[life.sort] = where.get(life.sort, 0) + 1
        if where is inside:
            assert high <= belly + 6
        elif life.sort != passing.HAKE:
            assert high == pytest.approx(passing.BED, abs=3)
    told_under, told_inside = re.search(
        r"Under it: (.*?)\. Into the net: (.*?)\.$", scene.description
    ).groups()
    assert counts(told_under) == under
    assert counts(told_inside) == inside
    assert ("nothing" in told_under) == (not under)


def test_nobody_passes_under_a_footrope_on_the_bottom():
    assert "Under it: nothing. Into the net: 2 flatfish, 1 crab, 1 lobster, 5 hake." in (
        scene_at(0).description
    )


def test_whoever_passes_still_passes_when_it_is_raised():
    before = set()
    for inch in INCHES:
        under, inside = passing.sorted_out(inch * INCH)
        assert len(under) + len(inside) == len(passing.LIVES)
        assert before <= set(under)
        before = set(under)


@pytest.mark.parametrize(
    ("inch", "words"),
    [
        (0, "The footrope is on the bottom. Each dropper drags along its whole length."),
        (18, "The footrope is 18 in off the bottom. About 11 in of each dropper drags."),
        (28, "The footrope is 28 in off the bottom. The droppers only just touch."),
        (29, "The footrope is 29 in off the bottom. The droppers hang clear of the bottom."),
    ],
)
def test_the_droppers_in_words(inch, words):
    assert scene_at(inch).description.startswith(words)


def test_what_moves_says_so_to_the_script():
    drawn = svg.render(scene_at(18))
    for part in ("net", "chain", "drags", "arrow", "words", "life-0", "life-8"):
        assert f'data-part="{part}"' in drawn
