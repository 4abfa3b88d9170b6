"""The printed sheet: one page, with what the deck needs on it."""

from datetime import date
from io import BytesIO

import pytest
from django.urls import reverse
from PIL import Image

from rigs import sheet
from rigs.paper import HEIGHT, WIDTH

from .conftest import make_net

pytestmark = pytest.mark.django_db

ADDRESS = "https://training.example.org/rigs/nets/1/"


def made(net):
    return sheet.Sheet(net.name, net.plan(), date(2026, 5, 4), ADDRESS)


class Recorder:
    """A paper that keeps what is written on it, and where."""

    def __init__(self):
        self.words = []
        self.lowest = 0

    def width(self, words, size, bold=False):
        return len(words) * size * 0.55

    def text(self, x, y, words, size, bold=False, colour="black"):
        self.words.append(words.replace("\u00a0", " "))
        self.lowest = max(self.lowest, y + size)
        assert 0 <= x < WIDTH

    def box(self, x, y, width, height, filled=False):
        self.lowest = max(self.lowest, y + height)

    def line(self, x1, y1, x2, y2):
        self.lowest = max(self.lowest, y1, y2)

    def picture(self, png, x, y, width, height):
        self.lowest = max(self.lowest, y + height)


def written(net):
    paper = Recorder()
    sheet._Layout(made(net), paper).draw()
    assert paper.lowest <= HEIGHT
    return " ".join(paper.words)


def test_the_sheet_says_where_what_and_in_which_order(net):
    text = written(net)
    plan = net.plan()
    assert net.name in text
    assert "May 4, 2026" in text
    assert f"rules version {plan.rulebook.version}" in text
    assert "42 in of 3/8 in chain" in text
    for step in plan.steps:
        assert step.title in text
    assert text.count("Port wing") == text.count("Starb. wing") == 2
    for words in sheet.CAUTIONS:
        assert words in text
    assert ADDRESS in text
    assert "no room" not in text


def test_a_net_that_is_not_legal_says_so_in_capitals(user):
    text = written(make_net(user, headrope="30 ft"))
    assert "NOT LEGAL YET: 1 thing still to put right" in text


def test_what_was_not_measured_is_said(user):
    text = written(make_net(user, cable="", top_wire=""))
    assert "NOT KNOWN YET: 2 things still to measure" in text


def test_a_huge_net_still_fits_one_page_and_says_what_is_left_out(user):
    text = written(make_net(user, port_wing="600 ft", headrope="1000 ft", name="N" * 80, sure="on"))
    assert "no room for all of it" in text
    assert all(words in text for words in sheet.CAUTIONS)


def test_the_pdf_has_one_page(net):
    data = sheet.as_pdf(made(net))
    assert data.startswith(b"%PDF-")
    assert data.count(b"/Type /Page\n") == 1


def test_any_name_can_be_printed(user):
    net = make_net(user, name="Čajka 🐟 сеть")
    assert sheet.as_pdf(made(net)).startswith(b"%PDF-")
    assert sheet.as_png(made(net)).startswith(b"\x89PNG")


def test_the_picture_has_the_paper_s_shape(net):
    with Image.open(BytesIO(sheet.as_png(made(net)))) as image:
        assert image.width / image.height == pytest.approx(WIDTH / HEIGHT, rel=1e-3)


@pytest.mark.parametrize(
    ("name", "kind"), [("net_sheet_pdf", "application/pdf"), ("net_sheet_png", "image/png")]
)
def test_it_is_handed_out_as_a_file(as_user, net, name, kind):
    response = as_user.get(reverse(f"rigs:{name}", args=[net.pk]))
    assert response["Content-Type"] == kind
    assert 'filename="grey-net.' in response["Content-Disposition"]
