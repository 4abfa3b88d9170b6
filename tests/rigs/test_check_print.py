"""A check sheet on paper: nothing covers anything, however much there is to say."""

from dataclasses import replace
from datetime import date, datetime

import pytest

from rigs.check import printed, remarks, whole
from rigs.check.log import Logged, counted
from rigs.check.whole import Whole
from rigs.rules import rulebook
from rigs.rules.judge import judge
from rigs.words.gear import Sweep
from tests.rigs.papers import Recorder, assert_apart, assert_within
from tests.rigs.rig_factory import make_rig

BOOK = rulebook.load("chain-sweep", "1")
LONG_BOOK = replace(BOOK, title=f"{BOOK.title} {'and so on ' * 12}")


@pytest.fixture(autouse=True)
def recorded(monkeypatch):
    """The papers that were printed on; on none of them does anything cover anything."""
    found = []

    def paper(title):
        found.append(Recorder(title))
        return found[-1]

    monkeypatch.setattr(printed, "Document", paper)
    yield found
    for each in found:
        assert_within(each)
        assert_apart(each)


def words_on(papers):
    """Return all that stands on the last of ``papers``, in the order in which it was written."""
    return " ".join(words for *_, words in papers[-1].said)


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


def beside_of(typed, entries, reasons):
    books = whole.books_of(LONG_BOOK)
    return remarks.noted(
        typed, entries, reasons, lambda answers: whole.judged(answers, books).findings
    )


NOTHING = beside_of({}, (), {})


def test_a_finding_says_what_it_rests_on(recorded):
    at = "2026-09-30T07:30:00-04:00"
    entries = (
        Logged("a", "port_top_wire", "7/8", "measured", "calipers", at, at, "slip"),
        Logged("b", "port_top_wire", "3/8", "told", "skipper", at),
        Logged("c", "starboard_top_wire", "3/8", "measured", "", at),
        Logged("d", "dropper_length", "34 links of 3/8", "", "", at),
    )
    beside = beside_of(counted(entries), entries, {"headrope": "too dark"})
    printed.filled(
        printed.Filled(
            vessel="Sanderling",
            day=date(2026, 9, 30),
            officer="Officer Featherstonehaugh-Cholmondeley",
            handed_in=datetime(2026, 9, 30, 15),
            whole=whole.judged(beside.read.measures, whole.books_of(LONG_BOOK)),
            beside=beside,
        )
    )
    text = words_on(recorded)
    assert "Said, not measured: “Top leg, thickness” (port)." in text
    assert "Why not measured: “Headrope, wing end to wing end”: too dark." in text
    assert "1 by what somebody said" in text


READINGS = tuple(
    printed.Reading(
        f"“Widest gap on this wing” (port), {number}",
        "34 links of 3/8 = 46 15/16 in" if number % 3 else "9 ft 7 in",
        "measured, tape" if number % 2 else "said by the skipper",
        "9:12 a.m.",
        "September 30, 2026, 11:40 a.m.",
        "Struck out 9:14 a.m.: the tape was caught on a shackle." if number == 4 else "",
    )
    for number in range(70)
)


def longest(vessel, rig):
    """Return a sheet with all that can stand on one, each as long as it may be."""
    waves = tuple((x, 150 + 140 * (-1) ** x) for x in range(0, 1001, 20))
    return printed.Filled(
        vessel=vessel,
        day=date(2026, 9, 30),
        officer="Officer Featherstonehaugh-Cholmondeley " * 2,
        handed_in=datetime(2026, 9, 30, 15),
        whole=Whole((judge(rig, LONG_BOOK),)),
        beside=NOTHING,
        head=tuple((f"Label {number}", "Marrow Point " * 6) for number in range(13)),
        readings=READINGS,
        corrections=(
            printed.Correction(
                "October 2, 2026, 3:00 p.m., by Officer Featherstonehaugh: " + "why " * 70,
                (("“Widest gap on this wing” (port)", "9 ft 7 in", "7 ft 11 in"),) * 30,
            ),
        ),
        notices=("The phone went by version 1 and showed 0 outside. " * 3,) * 2,
        notes=f"Seen at the dock. {'x' * 200}\n" * 16,
        photos=("Photo 1: “Widest gap on this wing” (port)",) * 20,
        signatures=(
            printed.Signature("Officer Featherstonehaugh-Cholmondeley, 10:25 a.m.", (waves,)),
            printed.Signature("The skipper would not sign.", ()),
            printed.Signature("Witness: " + "Somebody " * 8, (waves, waves)),
        ),
        copy=printed.Copy("https://training.example/checks/copy/ABCDEFGHJKMN/", "Code. " * 20),
        is_demo=True,
    )


@pytest.mark.parametrize("vessel", ["Sanderling", "W" * 80, "Phalarope of Marrow Point " * 3])
@pytest.mark.parametrize("rig", [make_rig(BOOK), spoilt_rig()])
def test_a_full_sheet(recorded, vessel, rig):
    printed.filled(longest(vessel, rig))
    text = words_on(recorded)
    assert "Limits marked * were written from memory." in text
    assert f"Check of {vessel[:20]}" in text
    assert "Demo data" in text
    assert text.count("“Widest gap on this wing” (port)") >= len(READINGS) + 30 + 20
    # Struck out in the table of readings, and what was turned in beside what is right.
    struck = [each for each in recorded[-1].ruled if each[-1] == 0.9]
    assert len(struck) == 1 + 30


def test_a_sheet_that_is_not_turned_in_says_so(recorded):
    sheet = longest("Sanderling", make_rig(BOOK))
    printed.filled(sheet._replace(handed_in=None, corrections=(), is_demo=False))
    text = words_on(recorded)
    assert "not turned in yet" in text
    assert "Corrected" not in text
    assert "Demo data" not in text


@pytest.mark.parametrize("name", rulebook.gear_names())
def test_an_empty_sheet(recorded, name):
    printed.blank(rulebook.load(name))
    text = words_on(recorded)
    assert "Check sheet" in text
    assert "Notes" in text
