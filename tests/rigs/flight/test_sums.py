"""What acts on a rope or a net adds up to nothing, with what holds it: sums by hand."""

import numpy as np
import pytest

from rigs.physics import chain
from rigs.physics.balance import balance, float_lift
from rigs.physics.chain import GRAVITY, KEPT_IN_SEA_WATER
from rigs.physics.flight import believe, netting
from rigs.physics.flight.built import build
from rigs.physics.flight.laid import Cut
from rigs.physics.flight.solve import settle

from .lines import in_a_plane, pieces, sagging, system
from .nets import FLOAT, TOLD, lopsided, net, swept


def test_the_ends_of_a_rope_bear_its_weight_less_its_lift():
    """A rope as heavy as chain with three floats on it, in still water."""
    length, count = 12.0, 48
    heavy = chain.weight_in_sea_water(chain.STOCKS["3/8 in"], 1.0)
    lift = float_lift(FLOAT).likely * GRAVITY
    fixed = np.zeros((count + 1, 3))
    fixed[[12, 24, 30], 2] = lift
    rope = system(pieces(count, length, stiff=1e6, heavy=heavy), in_a_plane(count + 1), fixed=fixed)
    start = sagging((0.0, 0.0, 0.0), (10.0, 0.0, 1.0), count + 1, 2.5)
    ends = rope.forces(settle(rope, start).at)[[0, -1]]
    assert -ends[:, 2].sum() == pytest.approx(heavy * length - 3 * lift, rel=1e-3)
    assert ends[:, 0].sum() == pytest.approx(0.0, abs=1e-3 * np.abs(ends[:, 0]).sum())


RIGS = {"alike": net, "lopsided": lopsided, "with a sweep": swept}


@pytest.mark.parametrize("rig", RIGS.values(), ids=RIGS)
def test_all_that_acts_on_a_net_adds_up_to_what_its_doors_hold(rig):
    beliefs = believe(rig(), TOLD)
    guess = beliefs.guess()
    built = build(rig(), guess, Cut.typical(rig(), guess), half=False)
    net = built.system
    at = settle(net, built.start).at
    drag = net.drag(at).sum(axis=0)
    weight = sum((bars.metres * bars.heavy).sum() for bars in net.bars)
    borne = net.pressed(at)
    chains = net.hangers.pull(at[net.hangers.nodes, 2])[0].sum(axis=0)
    acting = net.fixed.sum(axis=0) + drag + np.array([chains[0], 0.0, -chains[1]])
    acting += np.array([guess.friction * borne.sum(), 0.0, borne.sum() - weight])
    doors = ~net.free.any(axis=1)
    assert doors.sum() == 2
    held = net.forces(at)[doors].sum(axis=0)
    assert held == pytest.approx(acting, abs=1e-3 * drag[0])
    assert drag[0] > 1000  # newtons: else a thousandth of it would say little


def test_a_net_weighs_what_the_balance_says():
    """Ropes, legs and floats, added up part by part there; netting from its twine alone."""
    rig = net()
    beliefs = believe(rig, TOLD)
    guess = beliefs.guess()
    built = build(rig, guess, Cut.typical(rig, guess), half=False)
    wires, twines = built.system.bars
    said = balance(rig)
    lift = built.system.fixed[:, 2].sum() - guess.pull_up * rig.footrope.length
    assert lift == pytest.approx(said.of("floats").likely * GRAVITY)
    size = guess.rope_size
    ropes = wires.thick == size
    # Legs are of the same wire here; the balance has half of each hang on the net.
    hung = (wires.metres * wires.heavy)[ropes].sum() / GRAVITY
    parts = [said.of(part).likely for part in ("headrope", "footrope")]
    legs = [2 * each.kilograms.likely for each in said.entries if "leg" in each.part]
    assert hung == pytest.approx(sum(parts) + sum(legs), rel=1e-6)
    floats = (twines.metres * twines.heavy).sum() / GRAVITY
    kept = 1 - chain.SEA_WATER / netting.DENSITY
    thread = np.pi * guess.twine**2 / 4 * netting.DENSITY
    assert floats == pytest.approx(twines.metres.sum() * thread * kept)
    assert KEPT_IN_SEA_WATER > 0 > kept
