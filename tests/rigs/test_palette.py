"""One list of colors: in step everywhere, and readable."""

import re
from pathlib import Path

import pytest

from rigs.drawing import palette
from rigs.drawing.palette import DRAWINGS, PRINTS, SITE
from rigs.drawing.styles import STYLES

ROOT = Path(__file__).parents[2]
MADE = ROOT / "training/static/css/palette.css"
COLOR = re.compile(r"#(?:[0-9a-f]{6}|[0-9a-f]{3})\b", re.IGNORECASE)

# Where a color may be typed: the list, what is made of it, and the mark, which stands alone. A
# code to scan is black on white whatever the palette.
TYPED = {"rigs/drawing/palette.py", "training/people/joining_links.py"}


def test_the_stylesheet_is_made_of_the_list():
    assert MADE.read_text("utf-8") == palette.stylesheet(), (
        "Out of step. Run: python -m rigs.drawing.palette training/static/css/palette.css"
    )


def test_no_color_is_typed_anywhere_else():
    for folder, sort in (("rigs", "py"), ("training", "py"), ("training", "css")):
        for path in (ROOT / folder).rglob(f"*.{sort}"):
            name = str(path.relative_to(ROOT))
            if path != MADE and name not in TYPED:
                assert not COLOR.findall(path.read_text("utf-8")), name


def test_the_mark_is_in_the_sites_accent():
    text = (ROOT / "training/static/mark.svg").read_text("utf-8")
    assert SITE["accent"].light in text


@pytest.mark.parametrize("color", [*SITE.values(), *DRAWINGS.values()])
def test_a_color_is_told_in_full(color):
    for each in (color.light, color.dark, color.printed):
        assert re.fullmatch(r"#[0-9a-f]{6}", each)


def test_every_style_is_of_the_palette_and_every_color_is_of_use():
    used = {name for style in STYLES.values() for name in (style.fill, style.stroke) if name}
    assert used == set(DRAWINGS)


def test_every_variable_that_a_stylesheet_asks_for_is_there():
    made = set(re.findall(r"(--[\w-]+):", MADE.read_text("utf-8")))
    sheets = [path.read_text("utf-8") for path in MADE.parent.glob("*.css") if path != MADE]
    own = {name for sheet in sheets for name in re.findall(r"(--[\w-]+):", sheet)}
    asked = {name for sheet in sheets for name in re.findall(r"var\((--[\w-]+)", sheet)}
    shown = {"--bs-", "--zoom"}  # the form library's own, and what a script sets
    assert {name for name in asked - made - own if not name.startswith(tuple(shown))} == set()
    assert not own & made


def _luminance(color):
    def channel(value):
        value /= 255
        return value / 12.92 if value <= 0.04045 else ((value + 0.055) / 1.055) ** 2.4

    red, green, blue = (channel(int(color[i : i + 2], 16)) for i in (1, 3, 5))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def _contrast(one, other):
    dim, bright = sorted((_luminance(one), _luminance(other)))
    return (bright + 0.05) / (dim + 0.05)


# WCAG 2.2: 4.5 to 1 for text (1.4.3), 3 to 1 for what carries meaning (1.4.11).
ON_DRAWINGS = [
    *((ink, back, 4.5) for ink in ("ink", "quiet") for back in ("paper", "water")),
    ("ink", "bed", 4.5),
    ("on-fault", "fault", 4.5),
    *((front, "paper", 4.5) for front in ("fault", "ghost")),
    *((f, "paper", 3) for f in ("rope", "head", "steel", "fault", "ghost", "sweep", "dull")),
    *((f, "water", 3) for f in ("rope", "head", "steel", "fish", "sweep")),
]
GROUNDS = ("ground", "paper", "tint")
ON_PAGES = [
    *((front, back, 4.5) for front in ("ink", "ink-soft", "accent") for back in GROUNDS),
    *(("ink", back, 4.5) for back in ("good-tint", "bad-tint", "warn-tint")),
    *((sort, back, 4.5) for sort in ("good", "bad", "warn") for back in ("paper", f"{sort}-tint")),
    *(("accent-deep", back, 4.5) for back in GROUNDS),
    *(("on-accent", back, 4.5) for back in ("accent", "accent-deep")),
    *(("heat-ink", f"heat-{shade}", 4.5) for shade in range(1, 5)),
    *(("ink-soft", f"heat-{shade}", 4.5) for shade in range(1, 2)),
    *((front, back, 3) for front in ("line-strong", "focus") for back in ("ground", "paper")),
]


@pytest.mark.parametrize("screen", ["light", "dark", "printed"])
@pytest.mark.parametrize(
    ("colors", "front", "back", "ratio"),
    [*((DRAWINGS, *each) for each in ON_DRAWINGS), *((SITE, *each) for each in ON_PAGES)],
    ids=lambda part: "" if isinstance(part, dict) else str(part),
)
def test_colors_stand_out(screen, colors, front, back, ratio):
    assert _contrast(getattr(colors[front], screen), getattr(colors[back], screen)) >= ratio


@pytest.mark.parametrize("name", ["ink", "soft", "accent", "demo", "foot"])
def test_what_is_written_on_a_print_stands_out(name):
    assert _contrast(PRINTS[name], "#ffffff") >= 4.5
