"""The slopes by which a net is brought to rest, against differences of its forces."""

import numpy as np
import pytest

from rigs.physics.flight import believe, custom, fit, positions
from rigs.physics.flight.built import build
from rigs.physics.flight.laid import Cut
from rigs.physics.flight.solve import settle

from .nets import TOLD, lopsided, net, swept

STEP = 1e-6  # metres


def differences(system, at):
    """Return how forces fall off as nodes move, by central differences: every way by every way."""
    free = np.flatnonzero(system.free.ravel())
    columns = []
    for way in free:
        step = np.zeros(at.size)
        step[way] = STEP
        step = step.reshape(at.shape)
        change = system.forces(at - step) - system.forces(at + step)
        columns.append(change.ravel()[free] / (2 * STEP))
    return np.array(columns).T


@pytest.mark.parametrize(
    ("rig", "half"),
    [(net(), True), (lopsided(), False), (swept(), True)],
    ids=["half", "whole", "sweep"],
)
def test_slopes_are_those_of_the_forces(rig, half):
    """
    But where a bar is slack, next to nothing presses it, and slopes have nothing instead.

    So they are to a hundredth or two at nodes where slack bars end, which keeps a net that is
    far from rest from being thrown about.
    """
    guess = believe(rig, TOLD).guess()
    built = build(rig, guess, Cut.typical(rig, guess), half=half)
    system = built.system
    at = settle(system, built.start).at
    off = np.random.default_rng(5).normal(0.0, 1e-3, at.shape)
    at = at + np.where(system.free, off, 0.0)
    ours, theirs = system.work(at).slopes.toarray(), differences(system, at)
    missed = np.linalg.norm(ours - theirs, axis=0) / np.linalg.norm(theirs, axis=0)
    slack = np.zeros(len(at), dtype=bool)
    for bars, pulls in zip(system.bars, system.pulls(at), strict=True):
        slack[bars.nodes[pulls < 0]] = True
    at_slack = np.repeat(slack, 3)[system.free.ravel()]
    assert 0.2 < at_slack.mean() < 0.8  # there are some of both
    assert missed[~at_slack].max() < 1e-4
    assert missed.max() < 0.02
    assert np.linalg.norm(ours - theirs) < 1e-4 * np.linalg.norm(theirs)


def test_heights_change_with_what_is_not_known_as_they_do_when_flown_again():
    """The slopes over the unknowns, which are had without flying, against two more flights."""
    rig = net()
    beliefs = fit(believe(rig, TOLD), [custom(rig)])
    flown = beliefs.flown(rig)
    found = beliefs.slopes(flown, positions(rig))
    for which, unknown in enumerate(beliefs.unknowns):
        off = np.zeros(len(beliefs.offs))
        off[which] = 0.02
        more, less = (beliefs.fly(rig, flown, offs=beliefs.offs + sign * off) for sign in (1, -1))
        ups = np.array([more.up(each) - less.up(each) for each in positions(rig)]) / 0.04
        assert found[:, which] == pytest.approx(ups, abs=3e-3, rel=0.1), unknown.name
