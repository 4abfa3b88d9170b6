"""A net at rest is still a net: nothing turned inside out, nothing stretched out of measure."""

import numpy as np
import pytest

from rigs.physics.flight import believe, custom, fit

from .nets import TOLD, lopsided, net

NETS = {
    "small": net(50, 42, 12, 11),
    "middle": net(),
    "large": net(80, 70, 20, 17),
    "lopsided": lopsided(),
}


@pytest.fixture(scope="module", params=NETS.values(), ids=NETS)
def flown(request):
    rig = request.param
    return fit(believe(rig, TOLD), [custom(rig)]).flown(rig)


def cells(flown):
    """Return the corners (cells, 4, 3) of the netting's cells: edge first, then aft, around."""
    twines = flown.built.system.bars[1]
    there = twines.nodes[twines.metres > 0]
    return flown.at[there[: len(there) // 2]]


def test_netting_is_not_turned_inside_out(flown):
    """
    Cells face out of the net, away from the middle of their row; a few at slack places fold.

    The last row is left out: there all lines end in one point, and the netting is pulled shut.
    """
    corners = cells(flown)
    rows = flown.built.rows
    # Half the product of a cell's diagonals is its area, square to it.
    faces = np.cross(corners[:, 2] - corners[:, 0], corners[:, 3] - corners[:, 1]) / 2
    centers = corners.mean(axis=1).reshape(-1, rows, 3)
    middles = centers.mean(axis=0)
    middles[:, 1] *= not flown.built.half  # the middle of half a net is the whole's
    out = (centers - middles) * [0.0, 1.0, 1.0]
    faces = faces.reshape(-1, rows, 3)[:, :-1]
    facing = np.einsum("crd,crd->cr", faces, out[:, :-1])
    areas = np.linalg.norm(faces, axis=2)
    turned = facing * np.sign(facing.sum()) < 0
    assert areas[turned].sum() < 0.02 * areas.sum()


def test_netting_runs_aft_from_the_mouth_row_by_row(flown):
    corners = cells(flown)
    aft = (corners[:, 2:, 0].sum(axis=1) - corners[:, :2, 0].sum(axis=1)) / 2
    assert aft.min() > 0


def test_twines_are_hardly_stretched(flown):
    twines = flown.built.system.bars[1]
    there = twines.metres > 0
    lengths = np.linalg.norm(twines.vectors(flown.at), axis=1)
    strain = (lengths / twines.rest - 1)[there]
    assert strain.max() < 0.02


def test_ropes_keep_their_lengths_to_a_thousandth(flown):
    for rope in (flown.built.head, flown.built.foot):
        for line in rope.values():
            long = line[-1][0]
            at = flown.at[[node for __, node in line]]
            found = np.linalg.norm(np.diff(at, axis=0), axis=1).sum()
            assert found == pytest.approx(long, rel=1e-3)
