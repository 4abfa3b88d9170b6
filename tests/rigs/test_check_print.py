"""A check sheet on paper: nothing covers anything, however much there is to say."""

from dataclasses import replace
from datetime import date, datetime

import pytest

from rigs.check import printed, remarks, whole
from rigs.check.log import Entry, counted
from rigs.check.whole import Whole
from rigs.drawing.paper import HEIGHT, WIDTH, Document
from rigs.rules import rulebook
from rigs.rules.judge import judge
from rigs.words.gear import Sweep
from tests.rigs.rig_factory import make_rig

BOOK = rulebook.load("chain-sweep", "1")
LONG_BOOK = replace(BOOK, title=f"{BOOK.title} {'and so on ' * 12}")
SPOTS = []


class Recorder:
    """Stands in for a Document and keeps where words are put; letters have their true widths."""

    def __init__(self, title):
        self.width = Document(title).width
        SPOTS.clear()

    def text(self, x, y, words, size, bold=False, color="black"):
        SPOTS.append((x, y, x + self.width(words, size, bold), y + size, words))

    def box(self, x, y, width, height, filled=False):
        assert y + height <= HEIGHT

    def line(self, x1, y1, x2, y2):
        assert max(y1, y2) <= HEIGHT

    def data(self):
        return " ".join(words for *_, words in SPOTS).replace("\u00a0", " ")


@pytest.fixture(autouse=True)
def recorded(monkeypatch):
    monkeypatch.setattr(printed, "Document", Recorder)
    yield
    for index, (left, top, right, bottom, words) in enumerate(SPOTS):
        assert right <= WIDTH - 20, words
        assert bottom <= HEIGHT - 6, words
        for other in SPOTS[index + 1 :]:
            apart = right <= other[0] or other[2] <= left or bottom <= other[1] or other[3] <= top
            assert apart, (words, other)


def spoilt_rig():
    """Return a rig on which every dropper, float and leg breaks some rule."""
    rig = make_rig(BOOK)
    hung = tuple(
        replace(each, length=0.5, diameter=0.0127, position=each.position + 0.3, bare=False)
        for each in rig.droppers
    )
    legs = tuple(
        replace(each, top_diameter=0.02, top_length=100, extended=True) for each in rig.legs
    )
    small = tuple(replace(each, diameter=0.15) for each in rig.floats[::2])
    return rig.with_(droppers=hung, legs=legs, floats=small, sweep=Sweep(10, 10, 0.0127, False))


def test_a_sheet_with_readings():
    """All readings are on it, struck or not, and what is said behind a finding."""
    at = "2026-09-30T07:30:00-04:00"
    entries = (
        Entry("a", "port_top_wire", "7/8", "measured", "calipers", at, at, "slip"),
        Entry("b", "port_top_wire", "3/8", "told", "skipper", at),
        Entry("c", "starboard_top_wire", "3/8", "measured", "", at),
        Entry("d", "dropper_length", "34 links of 3/8", "", "", at),
    )
    typed = counted(entries)
    books = whole.books_of(LONG_BOOK)

    def judge(answers):
        return whole.judged(answers, books).findings

    beside = remarks.noted(typed, entries, {"headrope": "too dark"}, judge)
    text = printed.filled(
        printed.Filled(
            vessel="Sanderling",
            place="Kettle Harbor",
            day=date(2026, 9, 30),
            officer="Officer Featherstonehaugh-Cholmondeley",
            handed_in=datetime(2026, 9, 30, 15),
            verdict=whole.judged(beside.read.measures, books),
            so_far={},
            notes="",
            photos=0,
            beside=beside,
            entries=entries,
        )
    )
    assert "7/8 = 7/8 in (measured, calipers, 7:30 a.m.), struck out at 7:30 a.m.: slip" in text
    assert "34 links of 3/8 = 46 15/16 in" in text
    assert "said by the skipper" in text
    assert "Said, not measured: “Top leg, thickness” (port)." in text
    assert "Why not measured: “Headrope, wing end to wing end”: too dark." in text
    assert "1 by what somebody said" in text


@pytest.mark.parametrize("vessel", ["Sanderling", "W" * 80, "Phalarope of Marrow Point " * 3])
@pytest.mark.parametrize("rig", [make_rig(BOOK), spoilt_rig()])
def test_a_full_sheet(vessel, rig):
    sheet = printed.Filled(
        vessel=vessel,
        place="Kettle Harbor " * 6,
        day=date(2026, 9, 30),
        officer="Officer Featherstonehaugh-Cholmondeley " * 3,
        handed_in=datetime(2026, 9, 30, 15),
        verdict=Whole((judge(rig, LONG_BOOK),)),
        so_far={},
        notes=f"Seen at the dock. {'x' * 200}\n" * 3,
        photos=12,
    )
    text = printed.filled(sheet)
    assert "Limits marked * were written from memory." in text
    assert f"Check of {vessel[:20]}" in text


@pytest.mark.parametrize("name", rulebook.gear_names())
def test_an_empty_sheet(name):
    text = printed.blank(rulebook.load(name))
    assert "Check sheet" in text
    assert "Notes" in text
