"""Changes that somebody tries on a rig before anything is cut."""

import pytest

from rigs.make.changes import fewer_floats, over_footrope
from rigs.rules import rulebook
from rigs.tuning.altered import LEGS, Alteration
from rigs.words.gear import SIDES, Leg
from rigs.words.units import FATHOM, FOOT, INCH
from tests.rigs.rig_factory import make_rig


@pytest.fixture
def rig():
    legs = tuple(Leg(side, 10 * FATHOM, 10 * FATHOM, INCH / 2, INCH / 2) for side in SIDES)
    return make_rig(rulebook.load("no-sweep", "1")).with_(legs=legs)


def test_nothing_changed_is_the_rig_itself(rig):
    assert Alteration().of(rig) == rig
    assert Alteration().is_none
    assert not list(Alteration().words())


def test_fewer_floats_are_taken_off_and_the_rest_spaced_evenly(rig):
    count, length = len(rig.floats), rig.headrope.length
    left = Alteration(floats=-2).of(rig).floats
    assert len(left) == count - 2
    gaps = {round(b.position - a.position, 6) for a, b in zip(left, left[1:], strict=False)}
    assert len(gaps) == 1
    assert left[-1].position - left[0].position == pytest.approx(length)


def test_the_last_float_stands_at_the_center(rig):
    left = fewer_floats(rig, len(rig.floats) - 1).floats
    assert [each.position for each in left] == [0.0]


def test_more_floats_cannot_be_taken_off_than_there_are(rig):
    with pytest.raises(ValueError, match=f"only {len(rig.floats)} floats"):
        Alteration(floats=-len(rig.floats) - 1).of(rig)


def test_a_longer_rope_grows_at_both_wing_ends_and_what_hangs_stays(rig):
    changed = Alteration(headrope=2 * FOOT, footrope=FOOT).of(rig)
    assert changed.headrope.length == pytest.approx(rig.headrope.length + 2 * FOOT)
    assert changed.footrope.length == pytest.approx(rig.footrope.length + FOOT)
    assert changed.footrope.port_wing == pytest.approx(rig.footrope.port_wing + FOOT / 2)
    assert changed.footrope.bosom == rig.footrope.bosom
    assert changed.floats == rig.floats
    assert changed.droppers == rig.droppers


@pytest.mark.parametrize("longer", [{"headrope": -1000}, {"footrope": -1000}])
def test_a_rope_cannot_be_shortened_to_nothing(rig, longer):
    with pytest.raises(ValueError, match="not as long as that"):
        Alteration(**longer).of(rig)


@pytest.mark.parametrize(("side", "which"), LEGS)
def test_one_leg_alone_grows(rig, side, which):
    changed = Alteration(legs=((side, which, 3 * INCH),)).of(rig)
    for leg in changed.legs:
        for name in ("top", "bottom"):
            longer = 3 * INCH if (leg.side, name) == (side, which) else 0.0
            assert getattr(leg, f"{name}_length") == pytest.approx(10 * FATHOM + longer)


def test_a_leg_nobody_measured_cannot_be_made_longer(rig):
    bare = rig.with_(legs=tuple(Leg(side, None, None, None, None) for side in SIDES))
    with pytest.raises(ValueError, match="were not measured"):
        Alteration(legs=(("port", "top", INCH),)).of(bare)


def test_all_droppers_are_hung_in_other_chain(rig):
    changed = Alteration(chain=5 / 16 * INCH).of(rig)
    assert {each.diameter for each in changed.droppers} == {5 / 16 * INCH}
    assert [each.position for each in changed.droppers] == [each.position for each in rig.droppers]


def test_floats_are_put_on_where_they_are_asked_for_and_the_others_stay(rig):
    changed = Alteration(put_on=(0, 1, 0, 0, 2)).of(rig)
    assert len(changed.floats) == len(rig.floats) + 3
    new = sorted({each.position for each in changed.floats} - {f.position for f in rig.floats})
    port_corner = over_footrope(rig)[1]
    assert new[0] == pytest.approx(port_corner, abs=rig.floats[0].diameter)
    assert all(place > rig.headrope.length / 2 - FOOT * 3 for place in new[1:])


def test_floats_put_on_come_after_those_spaced_over_the_headrope(rig):
    both = Alteration(floats=2, put_on=(0, 0, 0, 1, 0)).of(rig)
    assert both == Alteration(put_on=(0, 0, 0, 1, 0)).of(Alteration(floats=2).of(rig))


def test_it_is_said_in_words():
    tried = Alteration(
        floats=-1,
        put_on=(0, 1, 0, 0, 2),
        droppers=2,
        chain=3 / 8 * INCH,
        headrope=FOOT,
        footrope=-6 * INCH,
        legs=(("port", "bottom", 3 * INCH),),
        cut_sweep=True,
    )
    assert list(tried.words()) == [
        "cut the sweep",
        "1 float fewer",
        "1 float more over the port corner",
        "2 floats more over the starboard wing end",
        "2 droppers more",
        "droppers of 3/8 in chain",
        "headrope 1 ft longer",
        "footrope 6 in shorter",
        "port bottom leg 3 in longer",
    ]
