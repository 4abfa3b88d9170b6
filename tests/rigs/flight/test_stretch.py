"""A line that is pulled gets longer by T L / EA, as in any book of statics."""

import numpy as np
import pytest

from rigs.physics.flight.bars import SLACK
from rigs.physics.flight.solve import settle

from .lines import pieces, system

LENGTH, STIFF = 10.0, 5e4


def longer(pull, count=4):
    """Return by how many metres a line gets longer as ``pull`` newtons act on its end."""
    bars = pieces(count, LENGTH, stiff=STIFF)
    free = np.zeros((count + 1, 3), dtype=bool)
    free[1:, 0] = True
    fixed = np.zeros((count + 1, 3))
    fixed[-1, 0] = pull
    at = np.zeros((count + 1, 3))
    at[:, 0] = np.linspace(0.0, LENGTH, count + 1)
    return settle(system(bars, free, fixed=fixed), at).at[-1, 0] - LENGTH


@pytest.mark.parametrize("pull", [250.0, 1000.0, 2000.0])
def test_a_line_stretches_by_its_pull_times_its_length_over_its_stiffness(pull):
    assert longer(pull) == pytest.approx(pull * LENGTH / STIFF, rel=1e-3)


def test_lines_side_by_side_share_a_pull():
    bars = pieces(1, LENGTH, stiff=STIFF)
    three = pieces(1, LENGTH, stiff=STIFF, share=3.0)
    length = np.array([LENGTH * 1.01])
    assert three.pull(length)[0] == pytest.approx(3 * bars.pull(length)[0])


def test_a_line_hardly_resists_being_pressed():
    pressed, __ = pieces(1, LENGTH, stiff=STIFF).pull(np.array([LENGTH * 0.9]))
    assert -2 * SLACK * 0.1 * STIFF < pressed[0] < 0
