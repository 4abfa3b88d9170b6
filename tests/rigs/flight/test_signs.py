"""
Which way the footrope goes as a net is changed, in nets of many sizes and makes.

What is common practice on deck has to come out: more floats raise, more chain lowers, and so on
(common practice, no source). How many of COUNT nets follow is said beside each. Of some changes
a few do not: where their netting hangs slack it can fold in more ways than one, and goes over
from one to the other with a small change; and a wing end that rises by a little takes some of
the float's lift off the center. A few close their mouth with a change, and are left out. A few
fewer may follow on another machine, for whose last digits a net at the turn goes the other way.
"""

from dataclasses import replace

import numpy as np

from rigs.physics.flight import NotAtRest
from rigs.words.gear import STARBOARD, Float, Headrope
from rigs.words.units import FOOT, INCH

from .nets import FLOAT, longer_leg
from .sampled import COUNT, DROP, HIGH, LOW, sampled

ENDS, CENTER = [0, 4], 2
CLOSE = 7
"""How many nets may close their mouth with a change; five do."""


def rises(change):
    """
    Return by how many metres POINTS rise with ``change`` in each net (nets, points).

    Of each that flies with it; at most CLOSE do not.
    """
    found = []
    for rig, beliefs, flown in sampled()[0]:
        try:
            changed = beliefs.fly(change(rig), flown)
        except NotAtRest:
            continue
        pairs = zip(flown.points, changed.points, strict=True)
        found.append([after.up - before.up for before, after in pairs])
    assert len(found) >= COUNT - CLOSE
    return np.array(found)


def counted(holds):
    """Return in how many nets ``holds`` (nets,) is so."""
    return int(np.count_nonzero(holds))


def more_floats(rig):
    out = [share * rig.headrope.length for share in (-0.3, -0.1, 0.1, 0.3)]
    return rig.with_(floats=(*rig.floats, *(Float(each, FLOAT) for each in out)))


def more_chain(rig):
    return rig.with_(droppers=tuple(replace(each, count=2) for each in rig.droppers))


def longer_headrope(rig):
    return rig.with_(headrope=Headrope(rig.headrope.length + 4 * INCH))


def longer_footrope(rig):
    """Two inches a side of bare rope: the netting stays as it was cut."""
    rope = rig.footrope
    port, starboard = rope.port_wing + 2 * INCH, rope.starboard_wing + 2 * INCH
    return rig.with_(footrope=replace(rope, port_wing=port, starboard_wing=starboard))


def test_there_are_enough_nets_that_fly_within_their_droppers_reach():
    """67 draws gave COUNT; of the others a wing end lay, the center flew high or the mouth shut."""
    nets, draws = sampled()
    assert len(nets) == COUNT
    assert draws < 3 * COUNT
    assert len({each.rig for each in nets}) == COUNT
    for each in nets:
        assert all(LOW <= point.up <= HIGH < DROP for point in each.flown.points)
        foot, head = each.rig.footrope.length, each.rig.headrope.length
        assert 50 * FOOT - 1e-6 <= foot <= 90 * FOOT + 1e-6
        assert 5 * FOOT - 1e-6 <= foot - head <= 15 * FOOT + 1e-6


def test_more_floats_raise_the_whole_footrope():
    rise = rises(more_floats)
    assert counted((rise > 0).all(axis=1)) >= COUNT - 1  # all
    assert (np.median(rise, axis=0) > 3 * INCH).all()


def test_more_chain_lowers_the_whole_footrope():
    rise = rises(more_chain)
    assert (rise < 0).all()  # all
    # The center, which hangs highest, by the most.
    assert counted(rise[:, CENTER] < rise[:, ENDS].min(axis=1)) >= COUNT - 1  # all
    assert (rise[:, CENTER] < -5 * INCH).all()


def test_a_longer_top_leg_raises_its_wing_end_over_the_other():
    rise = rises(lambda rig: longer_leg(rig, STARBOARD, top=4 * INCH))
    assert counted(rise[:, -1] > rise[:, 0]) >= len(rise) - 2  # 35 of 36
    assert counted(rise[:, -1] > 0) >= len(rise) - 2  # all


def test_a_longer_bottom_leg_lowers_its_wing_end_under_the_other():
    rise = rises(lambda rig: longer_leg(rig, STARBOARD, bottom=4 * INCH))
    assert counted(rise[:, -1] < rise[:, 0]) >= len(rise) - 2  # 32 of 33
    assert counted(rise[:, -1] < 0) >= len(rise) - 2  # 32 of 33


def test_a_longer_headrope_raises_the_wing_ends_and_mostly_the_center():
    rise = rises(longer_headrope)
    assert counted((rise[:, ENDS] > 0).all(axis=1)) >= len(rise) - 4  # 34 of 36
    assert counted(rise[:, CENTER] > 0) >= len(rise) - 10  # 29 of 36
    assert (np.median(rise, axis=0) > INCH).all()


def test_a_longer_footrope_lowers_the_wing_ends():
    rise = rises(longer_footrope)
    assert counted((rise[:, ENDS] < 0).all(axis=1)) >= len(rise) - 2  # all of 31
    assert np.median(rise[:, ENDS]) < -INCH
