"""What no net has and what few have: guards of ours, with no source."""

import pytest

from rigs.plan.entry import rig
from rigs.words import guards
from rigs.words.units import FATHOM, FOOT, INCH


def test_what_is_usual_is_not_asked_about():
    assert guards.question("bosom", 16 * FOOT) == ""
    assert guards.question("dropper", 42 * INCH) == ""
    for sort, usual in guards.USUAL.items():
        assert guards.question(sort, usual.least) == guards.question(sort, usual.most) == ""


@pytest.mark.parametrize(
    ("sort", "metres", "words"),
    [
        ("bosom", 900 * FOOT, "900 ft is longer than any bosom this site has seen"),
        ("bosom", INCH, "1 in is shorter than any bosom this site has seen"),
        ("dropper", 42 * FOOT, "504 in is longer than any dropper"),
        ("cable", 300 * FATHOM, "300 fm is longer than any ground cable"),
        ("mesh", 25 * INCH, "25 in is bigger than any mesh"),
        ("wire", 5 * INCH, "5 in is thicker than any wire"),
    ],
)
def test_what_is_unlikely_is_asked_about(sort, metres, words):
    assert guards.question(sort, metres).startswith(words)
    assert guards.question(sort, metres).endswith("Check the unit.")


def test_what_cannot_be_is_refused():
    assert guards.too_long(guards.LONGEST) == ""
    assert "longer than any net" in guards.too_long(guards.LONGEST + INCH)


def test_the_bounds_are_those_of_entries_that_make_a_net():
    entries = dict.fromkeys(guards.OF_A_NET, 10.0)
    assert rig(entries).footrope.length == 30.0
    assert set(guards.OF_A_NET.values()) <= set(guards.USUAL)
