"""
How a floating net resists a small even upward pull on its footrope: what it flies by.

A pull of q newtons a metre, Q in all, raises the footrope by its mean rise r: its stiffness is
Q / r. By Rayleigh's principle (of statics, from memory) that is at most the stiffness against
any one way of rising that is forced on it. Force the whole net to rise evenly, with each leg
turning about the place where it leaves the bottom: a leg of pull T that is off the bottom over
a length l then resists by T / l, a dropper by the slope of its load over height, and nothing
else turns or stretches. So it is at most the sum of both. It is at least what the droppers
alone resist by, whatever legs and netting do.

How far below the sum? Left free, the net hardly rises at its wing ends, where short pieces of
bottom leg hold it, and most at the center, about twice as much as on the mean, while the legs
count by how far the wing ends rise. So of the legs there may be little to be felt: as little
as a third of the sum in all.
"""

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from scipy.sparse.linalg import splu

from rigs.physics.flight import believe, custom, fit
from rigs.physics.flight.flown import LYING

from .nets import TOLD, net

NETS = {"small": net(50, 42, 12, 11), "middle": net(60, 52, 14, 13), "large": net(80, 70, 20, 17)}
ROOM = 1.1
"""Drag turns with the bars, so that slopes are not quite alike both ways, as Rayleigh has them."""


def flying(rig):
    return fit(believe(rig, TOLD), [custom(rig)]).flown(rig)


def stiffness(flown):
    """Return the newtons of an even pull over the metres by which the footrope rises."""
    system = flown.built.system
    pull = np.zeros_like(flown.at)
    for rope in flown.built.foot.values():
        for (near, one), (far, other) in pairwise(rope):
            pull[[one, other], 2] += (far - near) / 2
    rise = np.zeros_like(pull)
    rise[system.free] = splu(system.work(flown.at).slopes.tocsc()).solve(pull[system.free])
    return pull.sum() ** 2 / (pull * rise).sum()


def of_droppers(flown):
    """Return newtons a metre by which droppers resist, by their loads an inch up and down."""
    hung = flown.built.system.hangers
    up = flown.at[hung.nodes, 2]
    loads = [hung.pull(up + step)[0][:, 1].sum() for step in (0.0254, -0.0254)]
    return (loads[0] - loads[1]) / (2 * 0.0254)


def of_legs(flown):
    """Return newtons a metre: each leg's pull over its length off the bottom."""
    wires, pulls = flown.built.system.bars[0], flown.built.system.pulls(flown.at)[0]
    found = 0.0
    for (__, name), line in flown.built.legs.items():
        if name == "cable":
            continue
        lifted = [pair for pair in pairwise(line) if flown.at[pair[1], 2] > LYING]
        ends = {frozenset(pair) for pair in lifted}
        of = [i for i, pair in enumerate(wires.nodes.tolist()) if frozenset(pair) in ends]
        assert len(of) == len(lifted)
        found += pulls[of].mean() / wires.rest[of].sum()
    return found


@pytest.mark.parametrize("rig", NETS.values(), ids=NETS)
def test_a_floating_net_resists_as_its_legs_and_droppers_do(rig):
    flown = flying(rig)
    assert not any(point.lies for point in flown.points)
    ours, droppers, legs = stiffness(flown), of_droppers(flown), of_legs(flown)
    assert droppers < ours < ROOM * (droppers + legs)
    assert ours > (droppers + legs) / 3


def test_without_its_droppers_a_net_resists_by_about_as_much_less():
    """By half to twice as much: they hang evenly, but the net does not rise so."""
    flown = flying(net())
    system = flown.built.system
    none = system.hangers._replace(number=0 * system.hangers.number)
    loose = replace(flown, built=replace(flown.built, system=replace(system, hangers=none)))
    less = stiffness(flown) - stiffness(loose)
    assert 0.5 < less / of_droppers(flown) < 2
