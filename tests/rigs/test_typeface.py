"""Prints and pictures have the same letters in the same places on every machine."""

from importlib.resources import files
from io import BytesIO
from pathlib import Path

import pytest
from fontTools.ttLib import TTFont
from PIL import Image, ImageFont

from rigs.drawing import png, typeface
from rigs.drawing.column import Column, Frame, lines
from rigs.drawing.paper import Document, Picture
from rigs.drawing.scene import Scene, Text

PACKAGE = Path(str(files("ttf_opensans")))

USED = "½¼¾⅛⅜⅝⅞″′°×–—−“”‘’…·•*†≤≥éèñöüåøßçÇłŁčšžőűışğĐ€\u00a0"
"""Signs of the deck, of the rule sets and of names, as they occur in prints."""


@pytest.fixture
def opened(monkeypatch):
    """The files that letters were drawn with during a test."""
    found = set()
    start = ImageFont.FreeTypeFont.__init__

    def noting(self, font, *args, **options):
        found.add(Path(str(font)))
        start(self, font, *args, **options)

    monkeypatch.setattr(ImageFont.FreeTypeFont, "__init__", noting)
    typeface.font.cache_clear()
    yield found
    typeface.font.cache_clear()


def test_no_font_of_the_machine_is_opened(opened):
    for paper in (Picture(), Document("a print")):
        paper.text(20, 20, "3 ft 6 in", 12)
        paper.text(20, 40, "3 ft 6 in", 12, bold=True)
        paper.data()
        if isinstance(paper, Document):
            opened |= {Path(font.ttffile) for font in paper.pdf.fonts.values()}
    png.render(Scene(100, 100, "t", "d", [Text(50, 50, "corner")]), 200)
    assert {path.parent.parent for path in opened} == {PACKAGE}
    assert len(opened) == 2


def test_widths_are_those_of_the_typeface_itself():
    for bold in (False, True):
        face = TTFont(typeface.path(bold))
        names, widths = face.getBestCmap(), face["hmtx"]
        words = "Łódź, 3 ft 7½ in × 5/16″"
        units = sum(widths[names[ord(letter)]][0] for letter in words)
        expected = units / face["head"].unitsPerEm * 12
        assert Document("t").width(words, 12, bold) == pytest.approx(expected, abs=0.05)
        # A picture's letters are a whole number of pixels high, hinted and kerned.
        assert Picture().width(words, 12, bold) == pytest.approx(expected, rel=0.04)


LAID_OUT = [
    (50.0, 52.5, "At each marked place shackle"),
    (50.0, 64.5, "42\u00a0in of bare 3/8\u00a0in chain. Cut at"),
    (50.0, 76.5, "the link past the mark."),
    (50.0, 91.5, "Stbd wing end"),
]
"""What the column below came to when it was first set in this typeface."""


def test_a_column_breaks_where_it_always_has():
    paper = Document("t")
    written = []
    paper.text = lambda x, y, words, *args: written.append((x, y, words))
    column = Column(paper, Frame(50, 50, 160, 700), 10)
    column.say(
        "At each marked place shackle 42 in of bare 3/8 in chain. Cut at the link past the mark."
    )
    column.say("Stbd wing end", bold=True)
    assert written == LAID_OUT


def test_no_line_ends_within_a_measure():
    paper = Document("t")
    words = "a gap of 3 ft 7 1/2 in, 50 CFR 648.80(a) * " * 5 + "W" * 60
    for room in range(60, 300, 7):
        for line in lines(paper, words, 10, room):
            assert paper.width(line, 10) <= room
            if room > 90:
                assert line.count("3\u00a0ft") == line.count("1/2\u00a0in")
                assert not line.startswith("*")


def test_all_signs_in_use_are_there():
    assert typeface.printable(USED) == USED


@pytest.mark.parametrize(
    ("written", "printed"),
    [
        ("Zoë Łukasz", "Zoë Łukasz"),
        ("Zoe\u0308", "Zoë"),  # the accent typed after its letter
        ("Čajka 🐟 сеть", "Čajka ? сеть"),
        ("Net №\u00a0②", "Net №\u00a02"),
        ("山田", "??"),
        ("a\u200db\tc", "ab c"),
        ("", ""),
    ],
)
def test_letters_that_it_lacks_leave_the_rest_as_it_is(written, printed):
    assert typeface.printable(written) == printed
    for paper in (Picture(), Document("t")):
        paper.text(10, 10, written, 12)
        assert paper.width(written, 12) == paper.width(printed, 12)


def test_pictures_are_the_same_each_time():
    def made():
        picture = Picture((200, 40))
        picture.text(5, 5, "Stbd wing end, 16 ft", 14)
        return picture.data()

    with Image.open(BytesIO(made())) as image:
        assert len(image.getcolors(1 << 20)) > 5
    assert made() == made()
