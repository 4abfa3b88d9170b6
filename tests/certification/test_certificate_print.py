"""The certificate as it is printed: on one sheet, nothing lost, with a code to check it by."""

from dataclasses import dataclass, field
from datetime import UTC, date, datetime
from io import BytesIO

import pytest
from PIL import Image

from rigs.drawing.paper import LANDSCAPE, Document, Picture
from training.certification import certificate_print
from training.certification.certificate_print import CAUTION, DEMO, HEADING, NATURE, Printed
from training.certification.fair import wording
from training.certification.fair.conditions import HowTaken

WIDTH, HEIGHT = LANDSCAPE
TAKEN = wording.taken(
    HowTaken(True, datetime(2026, 1, 30, 18, tzinfo=UTC), datetime(2026, 1, 31, 18, tzinfo=UTC))
)


def printed(**changes):
    fields = {
        "holder": "Wren Tolliver",
        "title": "Rigging a raised footrope",
        "summary": "Hangs droppers where the rules want them, from the right chain.",
        "issuer": "Tern Sound Fisheries Extension",
        "issued": date(2026, 1, 31),
        "expires": date(2028, 1, 31),
        "rules": ["Raised footrope without a sweep, version 1"],
        "code": "ABCD-EFGH-JKLM",
        "address": "https://training.example/verify/ABCDEFGHJKLM/",
        "is_demo": False,
        "taken": TAKEN,
    }
    return Printed(**(fields | changes))


@dataclass
class Recorder:
    """Stands in for a paper and keeps where each line of words and the code are put."""

    paper: object = field(default_factory=lambda: Document("a certificate", LANDSCAPE))
    words: list = field(default_factory=list)
    spots: list = field(default_factory=list)

    def width(self, words, size, bold=False):
        return self.paper.width(words, size, bold)

    def text(self, x, y, words, size, bold=False, color="black", apart=0):
        self.words.append(words)
        width = self.width(words, size, bold) + apart * (len(words) - 1)
        self.spots.append((x, y, x + width, y + size))

    def picture(self, png, x, y, width, height):
        self.spots.append((x, y, x + width, y + height))

    def box(self, *args, **options):
        """Draw nothing."""

    line = box

    def data(self):
        return self


def test_all_is_said():
    said = certificate_print._drawn(Recorder(), printed()).words
    for words in (
        "Wren Tolliver",
        "Rigging a raised footrope",
        "January 31, 2026",
        "January 31, 2028",
        "ABCD-EFGH-JKLM",
        "Raised footrope without a sweep, version 1",
        "awarded to",
        "Issued by Tern Sound Fisheries Extension",
        HEADING,
        f"{NATURE} {TAKEN}",
        CAUTION,
    ):
        assert words in said
    assert "not a license" in NATURE
    assert NATURE == "This is a training certificate, not a license."
    assert any("https://training.example/verify/ABCDEFGHJKLM/" in words for words in said)
    assert DEMO not in said


def test_the_check_that_renewed_it_is_said():
    said = certificate_print._drawn(Recorder(), printed(checked=date(2027, 12, 5))).words
    assert "December 5, 2027" in said


def test_demo_data_are_marked():
    assert DEMO in certificate_print._drawn(Recorder(), printed(is_demo=True)).words


def test_no_word_is_spelled_out_with_spaces():
    for words in certificate_print._drawn(Recorder(), printed()).words:
        assert not any(f" {letter} " in f" {words} " for letter in "BCDEFGHJKLMNOPQRSTUVWXYZ")


LONG_DATES = {"issued": date(2026, 9, 30), "expires": date(2028, 9, 30), "code": "WWWW-MMMM-WWWW"}


@pytest.mark.parametrize("make", [Document, Picture])
@pytest.mark.parametrize(
    "changes",
    [
        {},
        LONG_DATES | {"is_demo": True, "checked": date(2027, 9, 30)},
        {
            "holder": "Wren Aurelia Featherstonehaugh of the crews at Marrow Point " * 3,
            "title": "Checking rigs with a raised footrope at sea and at the dock " * 2,
            "issuer": "Tern Sound Fisheries Extension of the coast and the islands " * 3,
            "address": f"https://{'training.' * 14}example/verify/ABCDEFGHJKLM/",
            "summary": "Says at length what its holder can do. " * 30,
            "rules": [f"One rule set of several, version {number}" for number in range(9)],
            "is_demo": True,
        },
        {"holder": "M" * 150, "title": "W" * 120, "rules": [f"{'W' * 90}, version 1"] * 5},
    ],
)
def test_words_neither_leave_the_sheet_nor_lie_on_each_other(changes, make):
    paper = make("a certificate", LANDSCAPE) if make is Document else make(LANDSCAPE)
    spots = certificate_print._drawn(Recorder(paper), printed(**changes)).spots
    assert all(left > 31 and right < WIDTH - 31 for left, _, right, _ in spots)
    assert all(top > 31 and bottom < HEIGHT - 31 for _, top, _, bottom in spots)
    for index, (left, top, right, bottom) in enumerate(spots):
        for other in spots[index + 1 :]:
            apart = right <= other[0] or other[2] <= left or bottom <= other[1] or other[3] <= top
            assert apart


def test_the_picture_is_us_letter_on_its_long_side():
    with Image.open(BytesIO(certificate_print.as_png(printed()))) as image:
        assert image.size == (11 * 150, 8.5 * 150)
        # The square of dark and light in the corner: about half of each.
        corner = image.convert("L").crop((1325, 895, 1515, 1085))
        dark = sum(corner.histogram()[:128]) / (corner.width * corner.height)
    assert 0.3 < dark < 0.7


def test_the_pdf_is_one_page_of_us_letter():
    data = certificate_print.as_pdf(printed(holder="Zoë Łukasz"))
    assert data.startswith(b"%PDF-")
    assert data.count(b"/Type /Page\n") == 1
    assert b"/MediaBox [0 0 792.00 612.00]" in data
