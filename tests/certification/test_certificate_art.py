"""The certificate as it is printed: on one sheet, nothing lost, with a code to check it by."""

from dataclasses import dataclass, field
from datetime import date
from io import BytesIO

import pytest
from PIL import Image

from rigs.paper import A4_LANDSCAPE
from training.certification import certificate_art
from training.certification.certificate_art import CAUTION, DEMO, Printed

WIDTH, HEIGHT = A4_LANDSCAPE


def printed(**changes):
    fields = {
        "holder": "Wren Tolliver",
        "title": "Rigging a raised footrope",
        "summary": "Hangs droppers where the rules want them, from the right chain.",
        "issued": date(2026, 1, 31),
        "expires": date(2028, 1, 31),
        "rules": ["Raised footrope without a sweep, version 1"],
        "code": "ABCD-EFGH-JKLM",
        "address": "https://training.example/verify/ABCDEFGHJKLM/",
        "is_demo": False,
    }
    return Printed(**(fields | changes))


@dataclass
class Recorder:
    """A paper that keeps where each line of words is written."""

    words: list = field(default_factory=list)
    spots: list = field(default_factory=list)

    def width(self, words, size, bold=False):
        return len(words) * size * 0.55

    def text(self, x, y, words, size, bold=False, colour="black"):
        self.words.append(words)
        self.spots.append((x, y, x + self.width(words, size), y + size))

    def box(self, *args, **options):
        """Draw nothing."""

    line = picture = box

    def data(self):
        return self


def test_all_is_said():
    said = certificate_art._drawn(Recorder(), printed()).words
    for words in (
        "Wren Tolliver",
        "Rigging a raised footrope",
        "January 31, 2026",
        "January 31, 2028",
        "ABCD-EFGH-JKLM",
        "Raised footrope without a sweep, version 1",
        CAUTION,
    ):
        assert words in said
    assert any("https://training.example/verify/ABCDEFGHJKLM/" in words for words in said)
    assert DEMO not in said


def test_demo_data_are_marked():
    assert DEMO in certificate_art._drawn(Recorder(), printed(is_demo=True)).words


@pytest.mark.parametrize(
    "changes",
    [
        {},
        {
            "holder": "Wren Aurelia Featherstonehaugh of the crews at Marrow Point " * 3,
            "title": "Checking rigs with a raised footrope at sea and at the quay " * 2,
            "summary": "Says at length what its holder can do. " * 30,
            "rules": [f"One rule set of several, version {number}" for number in range(9)],
            "is_demo": True,
        },
    ],
)
def test_words_neither_leave_the_sheet_nor_lie_on_each_other(changes):
    spots = certificate_art._drawn(Recorder(), printed(**changes)).spots
    assert all(left > 31 and right < WIDTH - 31 for left, _, right, _ in spots)
    assert all(top > 31 and bottom < HEIGHT - 31 for _, top, _, bottom in spots)
    for index, (left, top, right, bottom) in enumerate(spots):
        for other in spots[index + 1 :]:
            apart = right <= other[0] or other[2] <= left or bottom <= other[1] or other[3] <= top
            assert apart


def test_the_picture_is_a4_on_its_long_side():
    with Image.open(BytesIO(certificate_art.as_png(printed()))) as image:
        assert image.size == (round(WIDTH * 150 / 72), round(HEIGHT * 150 / 72))
        # The square of dark and light in the corner: about half of each.
        corner = image.convert("L").crop((1430, 850, 1600, 1030))
        dark = sum(corner.histogram()[:128]) / (corner.width * corner.height)
    assert 0.3 < dark < 0.7


def test_the_pdf_is_one_page():
    data = certificate_art.as_pdf(printed(holder="Zoë Łukasz"))
    assert data.startswith(b"%PDF-")
    assert data.count(b"/Type /Page\n") == 1
    assert b"/MediaBox [0 0 841.89 595.28]" in data
