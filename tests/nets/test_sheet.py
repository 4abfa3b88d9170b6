"""The printed sheet: one page, with what the deck needs on it."""

from dataclasses import replace
from datetime import date
from io import BytesIO

import pytest
from django.urls import reverse
from PIL import Image

from rigs.drawing.paper import HEIGHT, WIDTH, Document
from rigs.plan import printed
from rigs.plan.steps import CUTTING
from rigs.rules.wording import FROM_MEMORY
from rigs.words.cautions import CAUTIONS
from tests.nets.conftest import make_net

pytestmark = pytest.mark.django_db

ADDRESS = "https://training.example.org/nets/1/"


def made(net):
    return printed.RiggingSheet(net.name, net.plan(), date(2026, 5, 4), ADDRESS)


class Recorder:
    """A paper that keeps what is written on it, and where; letters have their true widths."""

    def __init__(self):
        self.width = Document("widths").width
        self.words = []
        self.spots = []

    def text(self, x, y, words, size, bold=False, color="black"):
        self.words.append(words.replace("\u00a0", " "))
        self.spots.append((x, y, x + self.width(words, size, bold), y + size))

    def picture(self, png, x, y, width, height):
        self.spots.append((x, y, x + width, y + height))

    def box(self, x, y, width, height, filled=False):
        assert y + height <= HEIGHT

    def line(self, x1, y1, x2, y2):
        assert max(y1, y2) <= HEIGHT


def assert_clear(spots):
    """Check that nothing leaves the sheet and that nothing lies on anything else."""
    for index, (left, top, right, bottom) in enumerate(spots):
        assert 0 <= left <= right <= WIDTH - 20
        assert 0 <= top <= bottom <= HEIGHT - 6
        for other in spots[index + 1 :]:
            apart = right <= other[0] or other[2] <= left or bottom <= other[1] or other[3] <= top
            assert apart, (spots[index], other)


def written(net, **changes):
    paper = Recorder()
    printed._Layout(made(net)._replace(**changes), paper).draw()
    assert_clear(paper.spots)
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
    assert text.count("Port wing") == text.count("Stbd wing") == 2
    for words in (*CAUTIONS, plan.carry.text):
        assert words in text
    assert ADDRESS in text
    assert "this page was full" not in text
    assert "meets every rule this site checked" in text


def test_limits_from_memory_are_marked_and_customs_told_apart(net):
    text = written(net)
    # 50 CFR 648.80(a)(9)(ii)(D), from memory; it gives no length without a sweep.
    assert "chain at most 3/8 in*, one every 8 ft* on a wing" in text
    assert "By custom: at least 42 in long" in text
    assert FROM_MEMORY in text


def test_the_warning_stands_before_the_first_cut(net):
    text = written(net)
    assert text.count(CUTTING) == 1
    assert text.index(CUTTING) < text.index("Cut the sweep away")


def test_a_net_that_breaks_a_rule_says_so_in_capitals(user):
    text = written(make_net(user, headrope="30 ft"))
    assert "DOES NOT MEET THE RULES YET: 1 thing to fix" in text
    text = written(make_net(user, headrope="30 ft", cable=""))
    assert "DOES NOT MEET THE RULES YET: 1 thing to fix, 1 thing to measure" in text


def test_what_was_not_measured_is_named(user):
    text = written(make_net(user, cable="", top_wire=""))
    assert "NOT SURE YET: 2 things to measure" in text
    assert "top leg wire (at most 1/2 in*)" in text
    assert "door to wing end (at most 40 fm*)" in text


def test_what_was_not_entered_is_asked_for(user):
    text = written(make_net(user, float_count="", droppers="unknown", dropper_spacing=""))
    assert "Floats: not entered." in text
    assert "Droppers: not entered." in text
    assert "floats 8 in across" not in text.partition("From the store")[2].partition("Lift")[0]


LONGEST_NAME = (
    "Wilhelmina Featherstonehaugh-Cholmondeley net of the Phalarope of Marrow Point".ljust(80, "W")
)


@pytest.mark.parametrize("name", [LONGEST_NAME[:80], "W" * 80])
@pytest.mark.parametrize("goal", ["no-sweep", "whiting", "grate"])
def test_the_longest_words_neither_leave_the_sheet_nor_lie_on_each_other(user, name, goal):
    few = {
        "droppers": "unknown",
        "dropper_spacing": "",
        "float_count": "",
        "cable": "",
        "top_wire": "",
        "top_leg": "",
    }
    net = make_net(user, name=name, goal=goal, **few)
    plan = net.plan()
    books = [
        book and replace(book, title=f"{book.title} {'and so on ' * 9}")
        for book in (plan.rulebook, plan.fishery)
    ]
    plan = replace(plan, rulebook=books[0], fishery=books[1])
    address = f"https://{'training.' * 12}example/nets/123456789/"
    text = written(net, plan=plan, address=address)
    assert "this page was full" not in text


def test_a_huge_net_still_fits_one_page_and_says_what_is_left_out(user):
    text = written(make_net(user, port_wing="600 ft", headrope="1000 ft", name="N" * 80, sure="on"))
    assert "More on the website: this page was full." in text
    assert all(words in text for words in CAUTIONS)


def test_the_pdf_has_one_page(net):
    data = printed.as_pdf(made(net))
    assert data.startswith(b"%PDF-")
    assert data.count(b"/Type /Page\n") == 1


def test_any_name_can_be_printed(user):
    net = make_net(user, name="Čajka 🐟 сеть")
    assert printed.as_pdf(made(net)).startswith(b"%PDF-")
    assert printed.as_png(made(net)).startswith(b"\x89PNG")


def test_the_picture_has_the_paper_s_shape(net):
    with Image.open(BytesIO(printed.as_png(made(net)))) as image:
        assert image.width / image.height == pytest.approx(WIDTH / HEIGHT, rel=1e-3)


@pytest.mark.parametrize(
    ("name", "kind"), [("net_sheet_pdf", "application/pdf"), ("net_sheet_png", "image/png")]
)
def test_it_is_handed_out_as_a_file(as_user, net, name, kind):
    response = as_user.get(reverse(f"nets:{name}", args=[net.pk]))
    assert response["Content-Type"] == kind
    assert 'filename="gray-net.' in response["Content-Disposition"]
