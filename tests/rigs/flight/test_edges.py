"""Rigs at the edge of what flies: what is not measured, what is not there, and a sweep."""

from dataclasses import replace

import numpy as np
import pytest

from rigs.physics import chain
from rigs.physics.flight import NotAtRest, believe, custom, fit, missing
from rigs.words.gear import Headrope
from rigs.words.units import INCH

from .nets import CHAIN, DROP, TOLD, net, swept


def flown(rig):
    return believe(rig, TOLD).flown(rig)


NOT_MEASURED = {
    "headrope": (net().with_(headrope=Headrope(None)), "headrope"),
    "floats": (net().with_(floats=None), "floats"),
    "a float's size": (
        net().with_(floats=tuple(replace(each, diameter=None) for each in net().floats)),
        "floats",
    ),
    "droppers": (net().with_(droppers=None), "droppers"),
    "a dropper's length": (
        net().with_(droppers=(replace(net().droppers[0], length=None), *net().droppers[1:])),
        "droppers",
    ),
}


@pytest.mark.parametrize(("rig", "word"), NOT_MEASURED.values(), ids=NOT_MEASURED)
def test_what_is_to_be_measured_first_is_named(rig, word):
    (named,) = missing(rig)
    assert word in named
    with pytest.raises(ValueError, match=word):
        flown(rig)


def test_nothing_is_missing_of_a_net_that_was_measured():
    assert missing(net()) == ()


def test_all_that_is_missing_is_named_together():
    bare = net().with_(headrope=Headrope(None), floats=None, droppers=None)
    assert len(missing(bare)) == 3
    with pytest.raises(ValueError, match="headrope.*floats.*droppers"):
        flown(bare)


@pytest.fixture(scope="module")
def by_custom():
    return fit(believe(net(), TOLD), [custom(net())])


def test_a_net_without_droppers_flies_higher(by_custom):
    with_them, without = by_custom.flown(net()), by_custom.flown(net().with_(droppers=()))
    assert without.trailing == ()
    for before, after in zip(with_them.points, without.points, strict=True):
        assert after.up > before.up + 3 * INCH


def test_a_net_with_half_its_floats_flies_lower(by_custom):
    half = net().with_(floats=net().floats[::2])
    for before, after in zip(
        by_custom.flown(net()).points, by_custom.flown(half).points, strict=True
    ):
        assert after.up < before.up


def test_a_net_without_floats_is_said_to_close(by_custom):
    """Its headrope would sink to the bottom, under the footrope."""
    with pytest.raises(NotAtRest, match="mouth"):
        by_custom.flown(net().with_(floats=()))


def test_a_net_with_a_sweep_flies_with_its_drop_chains_no_longer_than_they_are():
    rig = swept()
    net = fit(believe(rig, TOLD), [custom(rig)]).flown(rig)
    assert net.trailing == ()
    wires = net.built.system.bars[0]
    drops = np.flatnonzero(wires.thick == chain.stock_for(CHAIN).wire)
    assert len(drops) == (len(rig.droppers) + 1) / 2  # half a net
    lengths = np.linalg.norm(wires.vectors(net.at), axis=1)
    assert (lengths[drops] <= DROP * 1.01).all()
    # Most of the sweep lies on the bottom, and the footrope is over it.
    sweep = net.at[net.built.sweep["starboard"], 2]
    assert np.median(sweep) < INCH
    assert all(point.up < DROP + INCH for point in net.points)
    assert not net.points[2].lies


def test_with_a_sweep_the_footrope_bears_as_much_chain_as_hangs_and_no_more():
    """What of a drop chain lies on the bottom weighs nothing on the footrope."""
    rig = swept()
    net = fit(believe(rig, TOLD), [custom(rig)]).flown(rig)
    hangers = net.built.system.hangers
    up = net.at[hangers.nodes, 2]
    down = hangers.pull(up)[0][:, 1]
    whole = chain.weight_in_sea_water(chain.stock_for(CHAIN), DROP) * hangers.number
    assert (up < 0.8 * DROP).any()
    free = whole * np.clip(up / DROP, 0, 1)
    assert (down[up < 0.8 * DROP] < 0.9 * whole[up < 0.8 * DROP]).all()
    assert (down > 0.5 * free).all()


def test_how_a_net_with_a_sweep_flies_hangs_on_the_length_of_the_sweep():
    """So it is one of what is not known, and the spread of cutting a sweep is wide."""
    rig = swept()
    beliefs = fit(believe(rig, TOLD), [custom(net())])
    at = [each.name for each in beliefs.unknowns].index("sweep")
    ups = []
    for by in (-1.0, 1.0):
        offs = beliefs.offs.copy()
        offs[at] += by
        ups.append(beliefs.fly(rig, offs=offs).up(0.0))
    assert abs(ups[0] - ups[1]) > 2 * INCH
    assert "sweep" not in [each.name for each in believe(net(), TOLD).unknowns]


@pytest.mark.parametrize("rig", [net(), swept()], ids=["droppers", "sweep"])
def test_chain_that_nobody_sells_is_a_key_error_in_words(rig):
    odd = rig.with_(droppers=tuple(replace(each, diameter=0.9 * INCH) for each in rig.droppers))
    with pytest.raises(KeyError, match="No chain is sold as 0.900 in"):
        flown(odd)
