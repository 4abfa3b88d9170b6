"""Changes to a rig: what is added where, and what stays."""

import random
from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigs.make import changes, sample
from rigs.rules import rulebook
from rigs.rules.judge import judge
from rigs.words.gear import PORT, STARBOARD, Dropper, Float, Headrope
from rigs.words.units import FOOT, INCH
from tests.rigs.rig_factory import make_rig

BOOK = rulebook.load("no-sweep", "1")
SWEPT = rulebook.load("chain-sweep", "1")
sides = st.sampled_from([None, PORT, STARBOARD])
rigs = st.integers(0, 10_000).map(lambda seed: sample.legal_rig(random.Random(seed), BOOK, 3))


def by_place(droppers):
    return [each.position for each in droppers]


@given(rigs, st.integers(1, 8), sides)
def test_more_droppers_keeps_the_old_and_fills_gaps(rig, extra, side):
    changed = changes.more_droppers(rig, extra, side)
    assert set(rig.droppers) <= set(changed.droppers)
    new = set(changed.droppers) - set(rig.droppers)
    assert len(new) == extra == len(changed.droppers) - len(rig.droppers)
    assert by_place(changed.droppers) == sorted(by_place(changed.droppers))
    ends = rig.footrope.port_end, rig.footrope.starboard_end
    assert all(ends[0] < each.position < ends[1] for each in new)
    if side is not None:
        assert all((each.position < 0) == (side == PORT) for each in new)


@given(rigs, st.integers(1, 6))
def test_more_droppers_never_breaks_a_rule(rig, extra):
    assert judge(changes.more_droppers(rig, extra), BOOK).legal is True


def test_the_widest_gap_is_halved_first():
    rig = make_rig(BOOK)
    rig = rig.with_(droppers=tuple(Dropper(x * FOOT, 1.2, 0.008) for x in (-20, -8, 0, 6, 20)))
    changed = changes.more_droppers(rig, 1)
    new = sorted(set(by_place(changed.droppers)) - set(by_place(rig.droppers)))
    assert new == [pytest.approx(13 * FOOT, abs=INCH)]


shares = st.floats(-1, 1)


def halves(rig, shares):
    """Return the places on the headrope of ``rig`` at ``shares`` of its half."""
    return [share * rig.headrope.length / 2 for share in shares]


@given(rigs, shares, st.integers(1, 4))
def test_floats_put_on_lie_at_their_place_and_nothing_lies_in_another(rig, share, extra):
    (place,) = halves(rig, [share])
    changed = changes.floats_at(rig, place, extra)
    positions, size = [each.position for each in changed.floats], rig.floats[0].diameter
    assert len(positions) == len(rig.floats) + extra
    assert positions == sorted(positions)
    assert max(map(abs, positions)) <= rig.headrope.length / 2 + 1e-9
    new = set(positions) - {each.position for each in rig.floats}
    assert all(abs(each - place) < (2 * extra + 2) * size for each in new)
    tight = min(b.position - a.position for a, b in pairwise(rig.floats))
    gaps = [b - a for a, b in pairwise(positions)]
    assert min(gaps) >= min(size, tight) - 1e-9


@given(rigs, shares, st.integers(1, 4))
def test_floats_put_on_over_the_other_side_are_the_mirror_image(rig, share, extra):
    place, other = halves(rig, [share, -share])
    there = [each.position for each in changes.floats_at(rig, place, extra).floats]
    mirrored = [each.position for each in changes.floats_at(rig, other, extra).floats]
    assert [-each for each in reversed(mirrored)] == pytest.approx(there)


def test_a_float_put_on_at_the_center_leaves_both_sides_alike():
    rig = changes.more_floats(make_rig(BOOK), 2)
    rig = changes.fewer_floats(rig, 1 - len(rig.floats) % 2)
    assert any(abs(each.position) < 1e-9 for each in rig.floats)
    places = [each.position for each in changes.floats_at(rig, 0.0, 1).floats]
    assert [-each for each in reversed(places)] == pytest.approx(places)


def test_a_headrope_has_its_places_over_those_of_the_footrope():
    rig = make_rig(BOOK)
    half = rig.headrope.length / 2
    rope = replace(rig.footrope, port_wing=rig.footrope.starboard_wing + FOOT)
    port_end, port, center, starboard, starboard_end = changes.over_footrope(
        rig.with_(footrope=rope)
    )
    assert (port_end, center, starboard_end) == (-half, 0.0, half)
    assert starboard / half == pytest.approx(rope.starboard_corner / rope.starboard_end)
    assert 0 < -port < starboard  # the longer wing's corner is nearer to the center


@pytest.mark.parametrize("lacks", [{"floats": None}, {"headrope": Headrope(None)}])
def test_without_floats_or_headrope_nothing_is_put_on(lacks):
    with pytest.raises(ValueError, match="not measured"):
        changes.floats_at(make_rig(BOOK).with_(**lacks), 0.0, 1)


@given(rigs, st.integers(1, 8))
def test_more_floats_are_even_and_cover_both_ends(rig, extra):
    changed = changes.more_floats(rig, extra)
    places = [each.position for each in changed.floats]
    assert len(places) == len(rig.floats) + extra
    assert places[0] == pytest.approx(-rig.headrope.length / 2)
    assert places[-1] == pytest.approx(rig.headrope.length / 2)
    gaps = [b - a for a, b in zip(places, places[1:], strict=False)]
    assert max(gaps) == pytest.approx(min(gaps))


def test_floats_of_two_sizes_are_all_kept():
    rig = make_rig(BOOK, headrope=Headrope(4.0))
    balls = (Float(-2, 0.2), Float(0, 0.25), Float(2, 0.2))
    changed = changes.more_floats(rig.with_(floats=balls), 2)
    assert sorted(each.diameter for each in changed.floats) == [0.2, 0.2, 0.2, 0.2, 0.25]


@given(rigs, st.integers(1, 4), st.sampled_from([PORT, STARBOARD]))
def test_floats_on_one_side_stay_there(rig, extra, side):
    changed = changes.more_floats(rig, extra, side)
    new = set(changed.floats) - set(rig.floats)
    assert len(new) == extra
    assert set(rig.floats) <= set(changed.floats)
    assert all((each.position < 0) == (side == PORT) for each in new)


def test_what_was_not_measured_cannot_be_added_to():
    rig = make_rig(BOOK)
    for broken in (
        rig.with_(floats=None),
        rig.with_(floats=(Float(0, None),)),
        rig.with_(headrope=Headrope(None)),
    ):
        with pytest.raises(ValueError, match="not measured"):
            changes.more_floats(broken, 1)
        with pytest.raises(ValueError, match="not measured"):
            changes.longer_headrope(broken, 1.0, 1)
    with pytest.raises(ValueError, match="not measured"):
        changes.more_droppers(rig.with_(droppers=None), 1)
    with pytest.raises(ValueError, match="not measured"):
        changes.longer_footrope(rig.with_(droppers=()), 1, BOOK)


def test_a_longer_headrope_has_floats_on_all_of_it():
    rig = make_rig(BOOK)
    changed = changes.longer_headrope(rig, 4 * FOOT, 1)
    assert changed.headrope.length == pytest.approx(rig.headrope.length + 4 * FOOT)
    assert changed.floats[-1].position == pytest.approx(changed.headrope.length / 2)


@given(st.integers(0, 10_000), st.integers(1, 20))
def test_a_longer_footrope_has_the_droppers_it_needs(seed, feet):
    rig = sample.legal_rig(random.Random(seed), BOOK, 2)
    changed = changes.longer_footrope(rig, feet * FOOT, BOOK)
    assert changed.footrope.length == pytest.approx(rig.footrope.length + feet * FOOT)
    assert set(rig.droppers) <= set(changed.droppers)
    assert judge(changed, BOOK).failed_keys <= {"footrope_excess"}


def test_a_sweep_grows_with_the_footrope():
    rig = make_rig(SWEPT, headrope=Headrope(40 * FOOT))
    changed = changes.longer_footrope(rig, 2 * FOOT, SWEPT)
    assert changed.sweep.port == pytest.approx(rig.sweep.port + FOOT)
    assert judge(changed, SWEPT).legal is True
