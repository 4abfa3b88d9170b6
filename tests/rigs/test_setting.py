"""Blocks set on paper: nothing over an edge, nothing parted that belongs together."""

import pytest

from rigs.check import printed
from rigs.drawing.blocks import (
    PENCIL,
    Beside,
    Drawn,
    Framed,
    Heading,
    Lined,
    Row,
    RowCell,
    Said,
    Strip,
    Together,
    ToTick,
    ToWrite,
)
from rigs.drawing.page import WIDE
from rigs.drawing.setting import Setting
from rigs.rules import rulebook
from tests.rigs.papers import Recorder, assert_apart, assert_within

LONG = "The widest gap on this wing was read twice at the rail. "


def everything():
    yield Heading("A heading that takes more than one line because it says so very much of it all")
    yield Said(LONG * 4)
    yield Together((Said("Title", bold=True), Said(LONG * 3)))
    yield ToWrite("Mesh opening, average of 20 in a row", 20, across=5, hint="in")
    yield ToTick("Is all the wire bare, legs and ground cable?", ("yes", "no", "not seen"))
    yield Framed(LONG * 2)
    yield Strip(LONG * 2)
    yield Drawn((((0, 0), (500, 300), (1000, 0)),), (1000, 300), "A. Officer, officer")
    yield Beside((ToWrite("Vessel"), ToWrite(LONG)))
    yield Lined(3)
    yield Said("supercalifragilistic" * 12)


@pytest.mark.parametrize("how", ["across", "in_columns"])
@pytest.mark.parametrize("times", [1, 3, 7])
def test_nothing_runs_over_an_edge_or_into_something_else(how, times):
    paper = Recorder()
    setting = Setting(paper, "A footer that goes on and on. " * 9, [LONG * 3])
    getattr(setting, how)(list(everything()) * times)
    setting.across([Said("Last")])
    assert_within(paper)
    assert_apart(paper)
    assert paper.page > 1 or times < 7


@pytest.mark.parametrize("lines", range(30, 60))
def test_no_heading_is_parted_from_its_text(lines):
    for how in ("across", "in_columns"):
        paper = Recorder()
        setting = Setting(paper, "foot")
        filler = [Said(f"Line {number}") for number in range(lines * (1 + (how == "in_columns")))]
        getattr(setting, how)([*filler, Heading("The heading"), Together((Said(LONG * 3),))])
        (heading,) = [each for each in paper.said if each[-1] == "The heading"]
        (text,) = [each for each in paper.said if each[-1].startswith("The widest gap")][:1]
        assert heading[0] == text[0], (how, lines)
        assert heading[1] == text[1], (how, lines)  # in the same column


def test_the_head_of_a_table_comes_again_on_each_page():
    paper = Recorder()
    setting = Setting(paper, "foot")
    head = Row((RowCell("What"), RowCell("Typed")), (0.5, 0.5), head=True)
    rows = [
        Row((RowCell(f"Gap {n}"), RowCell("8 ft", struck=n == 3)), (0.5, 0.5)) for n in range(120)
    ]
    setting.across([Heading("Readings"), head, *rows, Said("After the table")])
    assert paper.page > 2
    for page in range(1, paper.page + 1):
        assert paper.on(page).count("What") == 1
    told = [words for *_, words in paper.said]
    assert [words for words in told if words.startswith("Gap")] == [f"Gap {n}" for n in range(120)]


def test_what_was_taken_back_is_struck_through():
    paper = Recorder()
    setting = Setting(paper, "foot")
    setting.across([Row((RowCell("9 ft", struck=True), RowCell("8 ft")), (0.5, 0.5))])
    struck = [(x1, x2, y) for _, x1, y, x2, _, weight in paper.ruled if weight == 0.9]
    (old,) = [each for each in paper.said if each[-1] == "9 ft"]
    assert len(struck) == 1
    x1, x2, y = struck[0]
    assert (x1, x2) == pytest.approx((old[1], old[3]))
    assert old[2] < y < old[4]


def test_two_columns_are_of_even_height():
    paper = Recorder()
    setting = Setting(paper, "foot")
    top = setting.y
    setting.in_columns([Said("Line")] * 41)
    assert setting.y - top <= 21 * Said("Line").height(paper, WIDE) + 4
    assert paper.page == 1


@pytest.mark.parametrize("name", rulebook.gear_names())
def test_boxes_to_write_in_have_room_for_a_pencil(monkeypatch, name):
    papers = []

    def recorded(title):
        papers.append(Recorder(title))
        return papers[-1]

    monkeypatch.setattr(printed, "Document", recorded)
    printed.blank(rulebook.load(name))
    (paper,) = papers
    assert_within(paper)
    assert_apart(paper)
    to_write = [(r - x, b - y) for _, x, y, r, b in paper.boxes if r - x > ToTick.BOX + 1]
    assert len(to_write) > 20
    # A line of handwriting is about a quarter of an inch high: common practice, no source.
    assert all(height > PENCIL - 0.1 > 18 and width > 40 for width, height in to_write)
