"""One net comes to one rest, wherever it starts: slack netting does not fold by chance."""

import numpy as np
import pytest

from rigs.physics.flight.built import PAGE, build
from rigs.physics.flight.laid import Cut
from rigs.physics.flight.solve import settle
from rigs.physics.flight.unknowns import Told, likely
from rigs.words.units import INCH
from tests.rigs.flying import net


@pytest.mark.parametrize("seed", range(5))
def test_a_net_shaken_before_it_comes_to_rest_flies_where_it_flew(seed):
    rig = net()
    guess = likely(rig, Told(1.5))
    built = build(rig, guess, Cut.typical(rig, guess), PAGE, half=True)
    shaken = np.random.default_rng(seed).normal(size=built.start.shape) * 0.3
    start = built.start + np.where(built.system.free, shaken, 0.0)
    start[:, 2] = np.maximum(start[:, 2], 0.05)
    still, after = settle(built.system, built.start), settle(built.system, start)
    for rope in (built.foot, built.head):
        for __, node in rope["starboard"]:
            assert after.at[node, 2] == pytest.approx(still.at[node, 2], abs=INCH / 4)
