"""What every drawing must be: readable by people, machines and screen readers alike."""

import re
from io import BytesIO
from pathlib import Path
from xml.etree import ElementTree

import pytest
from PIL import Image

from rigs.drawing import png, svg, typeface
from rigs.drawing.lettering import Box, Room, text_box, text_width, wrap
from rigs.drawing.marks import places_words
from rigs.drawing.palette import DRAWINGS
from rigs.drawing.scene import END, START, WIDTH, Circle, Line, Polygon, Polyline, Scene, Text
from rigs.drawing.styles import STYLES
from rigs.words.units import FOOT
from tests.rigs.drawn import every_scene, overlapping

SVG = "{http://www.w3.org/2000/svg}"
SCENES = every_scene()
STYLESHEET = Path(__file__).parents[2] / "training/static/css/drawing.css"

# The narrowest phone page: 360 px, less the page's own edges, shows a drawing 330 px
# wide, on which letters must not come out under 11 px.
NARROW, SMALLEST = 330, 11


@pytest.fixture(params=SCENES, ids=str)
def scene(request):
    return SCENES[request.param]


def test_svg_is_well_formed_and_told_in_words(scene):
    root = ElementTree.fromstring(svg.render(scene, "figure-1"))
    assert root.get("role") == "img"
    title, words = root.find(f"{SVG}title"), root.find(f"{SVG}desc")
    assert root.get("aria-labelledby") == title.get("id") == "figure-1-title"
    assert root.get("aria-describedby") == words.get("id") == "figure-1-desc"
    assert title.text == scene.title
    assert words.text == scene.description
    assert len(scene.description) > 40


def test_svg_holds_nothing_that_a_strict_page_refuses(scene):
    drawn = svg.render(scene)
    assert not re.search(r"\bstyle=|<style|<script|\bon\w+=|href", drawn)
    assert not re.search(r"#[0-9a-f]{3,6}\b", drawn)


def test_identifiers_differ_from_one_drawing_to_the_next(scene):
    first, second = (set(re.findall(r'id="([^"]+)"', svg.render(scene))) for _ in range(2))
    assert len(first) == len(second) == 2
    assert not first & second


def test_every_shape_is_in_the_svg(scene):
    root = ElementTree.fromstring(svg.render(scene))
    drawn = [child for child in root if child.tag not in (f"{SVG}title", f"{SVG}desc")]
    assert [child.get("class").split()[0] for child in drawn] == [p.style for p in scene.parts]


def test_every_shape_is_in_the_picture(scene, monkeypatch):
    drawn = []
    draw = png._Pen.draw
    monkeypatch.setattr(png._Pen, "draw", lambda pen, part: (drawn.append(part), draw(pen, part)))
    png.render(scene, width=90)
    assert drawn == scene.parts


@pytest.mark.parametrize(
    "part",
    [
        Line(10, 10, 90, 60, "footrope"),
        Line(10, 10, 90, 60, "sweep"),
        Polyline(((10, 10), (50, 80), (90, 10)), "headrope"),
        Polygon(((10, 10), (50, 80), (90, 10)), "corner"),
        Polygon(((10, 10), (50, 80), (90, 10)), "fish"),
        Circle(50, 50, 20, "float"),
        Circle(50, 50, 20, "ghost"),
        Text(50, 50, "corner"),
    ],
    ids=lambda part: f"{type(part).__name__} {part.style}",
)
def test_each_kind_of_shape_leaves_its_color_on_the_picture(part):
    picture = Image.open(BytesIO(png.render(Scene(100, 100, "t", "d", [part]), 400)))
    style = STYLES[part.style]
    colors = {color for _, color in picture.getcolors(1 << 20)}
    for name in filter(None, (style.stroke, style.fill)):
        wanted = tuple(int(DRAWINGS[name].printed[i : i + 2], 16) for i in (1, 3, 5))
        assert wanted in colors


def test_picture_has_the_asked_size_and_is_not_blank(scene):
    picture = Image.open(BytesIO(png.render(scene, width=480)))
    assert picture.format == "PNG"
    assert picture.size == (480, round(480 * scene.height / scene.width))
    assert len(picture.getcolors(1 << 20)) > 20


@pytest.mark.parametrize("width", [0, -5, 10.5])
def test_picture_refuses_a_width_that_is_none(width):
    with pytest.raises(ValueError, match="whole number of pixels"):
        png.render(SCENES["plan"], width)


def test_letters_are_readable_on_a_narrow_phone(scene):
    assert scene.width == WIDTH
    sizes = [text.size * NARROW / scene.width for text in scene.texts]
    assert sizes
    assert min(sizes) >= SMALLEST


def test_lettering_lies_on_the_drawing_and_clear_of_other_lettering(scene):
    bounds = Box(0, 0, scene.width, scene.height)
    assert [t.text for t in scene.texts if not text_box(t).within(bounds)] == []
    assert overlapping(scene) == []


def test_text_is_escaped():
    awkward = "<b>\"5/16\" & 'more'</b>"
    scene = Scene(10, 10, awkward, awkward, [Text(1, 1, awkward, data=(("name", awkward),))])
    drawn = svg.render(scene)
    assert "<b>" not in drawn
    root = ElementTree.fromstring(drawn)
    assert root.find(f"{SVG}title").text == awkward
    assert root.find(f"{SVG}text").text == awkward
    assert root.find(f"{SVG}text").get("data-name") == awkward


def _rules(css):
    return dict(re.findall(r"\.drawing \.([\w-]+) \{([^}]*)\}", css))


def test_stylesheet_draws_every_style_as_the_picture_does():
    rules = _rules(STYLESHEET.read_text())
    for name, style in STYLES.items():
        rule = rules[name]
        assert f"fill: {f'var(--draw-{style.fill})' if style.fill else 'none'};" in rule
        assert ("stroke: " in rule) == bool(style.stroke)
        if style.stroke:
            assert f"stroke: var(--draw-{style.stroke});" in rule
            assert f"stroke-width: {style.width:g};" in rule
        assert ("stroke-dasharray" in rule) == bool(style.dash)
        assert ("font-weight: 700" in rule) == style.bold


@pytest.mark.parametrize("scene_name", SCENES)
def test_room_kept_for_lettering_is_enough(scene_name):
    for text in SCENES[scene_name].texts:
        bold = STYLES[text.style].bold
        drawn = typeface.font(text.size * 4, bold).getlength(text.text) / 4
        assert text_width(text.text, text.size, bold) >= drawn * 0.97


def test_wrapping_keeps_words_and_measures_whole():
    text = "Space between floats: misses by 3 ft 7 1/2 in on the port side"
    for width in range(60, 400, 20):
        lines = wrap(text, width)
        assert " ".join(lines) == text
        assert any("3 ft 7 1/2 in" in line for line in lines)
        assert all(text_width(line) <= width for line in lines if " " in line and width > 160)


def test_room_gives_the_first_free_place_and_none_when_full():
    room = Room(Box(0, 0, 100, 30))
    first, second = Text(5, 8, "8 ft", anchor=START), Text(95, 8, "8 ft", anchor=END)
    assert room.place([first, second]) is first
    assert room.place([first, second]) is second
    assert room.place([first, second]) is None
    assert room.place([Text(99, 8, "8 ft", anchor=START)]) is None


@pytest.mark.parametrize(
    ("feet", "words"),
    [
        ([0], "at the center"),
        ([-8, 0, 8], "at the center, and 8 ft to each side"),
        (
            [-34, -26, -18, -10, 0, 10, 18, 26, 34],
            "at the center, and 10, 18, 26 and 34 ft to each side",
        ),
        ([-8, 8.5], "8 ft to port, and 8 ft 6 in to starboard"),
        ([-16, -8.5, 0, 8.5], "at the center, and 8 ft 6 in to each side, and 16 ft to port"),
        ([-10.25, -2, 2, 10.25], "2 ft and 10 ft 3 in to each side"),
    ],
)
def test_places_are_listed_side_by_side(feet, words):
    assert places_words([at * FOOT for at in feet]) == words


@pytest.mark.parametrize("scene_name", SCENES)
def test_every_letter_of_a_drawing_can_be_printed(scene_name):
    for text in SCENES[scene_name].texts:
        assert typeface.printable(text.text) == text.text
