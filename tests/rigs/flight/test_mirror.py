"""Port and starboard are alike to flight, and half a net flies as the whole."""

import numpy as np
import pytest

from rigs.physics.flight import POINTS, believe, custom, fit, is_alike
from rigs.physics.flight.built import build
from rigs.physics.flight.laid import Cut
from rigs.physics.flight.solve import settle

from .nets import TOLD, lopsided, mirrored, net, swept

NEAR = 1e-4  # metres


def heights(rig, beliefs):
    flown = beliefs.flown(rig)
    assert not flown.built.half
    return np.array([point.up for point in flown.points])


def test_a_lopsided_net_and_its_mirror_image_fly_as_mirror_images():
    rig = lopsided()
    assert not is_alike(rig)
    beliefs = fit(believe(net(), TOLD), [custom(net())])
    ours, theirs = heights(rig, beliefs), heights(mirrored(rig), beliefs)
    assert ours == pytest.approx(theirs[::-1], abs=NEAR)
    # And it is lopsided: else this would say nothing.
    assert abs(ours[0] - ours[-1]) > 0.02


@pytest.mark.parametrize("rig", [net(), swept()], ids=["droppers", "sweep"])
def test_half_a_net_flies_as_the_whole(rig):
    beliefs = fit(believe(net(), TOLD), [custom(net())])
    half = beliefs.flown(rig)
    assert half.built.half
    guess = beliefs.guess()
    whole = build(rig, guess, Cut.typical(net(), guess), half=False)
    at = settle(whole.system, whole.start).at
    for side, rope in whole.foot.items():
        for (out, node), (there, other) in zip(rope, half.built.foot["starboard"], strict=True):
            assert out == there
            assert at[node, 2] == pytest.approx(half.at[other, 2], abs=NEAR), (side, out)
    assert len(half.points) == len(POINTS)
