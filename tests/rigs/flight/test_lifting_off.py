"""A dropper that lifts off the bottom as the net goes up, and hangs free from there on."""

from math import atan2, cos

import numpy as np
import pytest

from rigs.physics import chain, tow
from rigs.physics.flight import believe, droppers
from rigs.physics.flight.believed import pull_up
from rigs.words.units import INCH, KNOT

from .nets import CHAIN, DROP, TOLD, net

LINE = tow.line(chain.stock_for(CHAIN))


@pytest.mark.parametrize("speed", [0.8, 1.3, 1.7])  # where tables stand, m/s
@pytest.mark.parametrize("friction", [0.3, 0.5])
def test_a_dropper_lifts_off_at_the_critical_angle(speed, friction):
    """There its shine ends, its pull points that way, and from there on it stays."""
    table, up = droppers.table(CHAIN, DROP, speed, friction), droppers.heights()
    free = int(np.argmax(table.shine <= 0))
    angle = tow.critical_angle(LINE, speed)
    assert up[free] == pytest.approx(DROP * cos(angle), abs=up[1])
    assert (table.shine[:free] > 0).all()
    for values in table:
        assert values[free:] == pytest.approx(values[free])
    assert atan2(table.aft[-1], table.down[-1]) == pytest.approx(angle, rel=1e-6)


def test_a_table_is_the_single_dropper_at_every_height():
    speed, friction = 1.3, 0.5
    table, up = droppers.table(CHAIN, DROP, speed, friction), droppers.heights()
    for shine in np.linspace(0.05, 0.9, 9) * DROP:
        alone = tow.hang(LINE, DROP, speed, float(shine), friction)
        assert np.interp(alone.height, up, table.shine) == pytest.approx(shine, abs=0.003)
        assert np.interp(alone.height, up, table.down) == pytest.approx(alone.load, rel=0.01)


def test_between_tables_a_dropper_is_the_single_dropper_still():
    speed, friction = 2.5 * KNOT, 0.46
    table, up = droppers.table(CHAIN, DROP, speed, friction), droppers.heights()
    for shine in np.linspace(0.1, 0.8, 5) * DROP:
        alone = tow.hang(LINE, DROP, speed, float(shine), friction)
        assert np.interp(alone.height, up, table.down) == pytest.approx(alone.load, rel=0.02)


def test_what_pulls_up_takes_the_droppers_off_the_bottom_one_by_one():
    rig = net(floats=25)  # so many that its mouth stays open
    beliefs = believe(rig, TOLD)
    which, flown = pull_up(beliefs), None
    clear, shines = [], []
    for off in np.arange(0.0, 1.3, 0.2):
        offs = beliefs.offs.copy()
        offs[which] = off
        flown = beliefs.fly(rig, flown, offs=offs)
        clear.append(sum(each.clear for each in flown.trailing))
        shines.append(sum(each.shine for each in flown.trailing))
        for each in flown.trailing:
            assert each.clear == (each.shine == 0)
            # Clear is what hangs higher than the critical angle lets the chain reach.
            reach = DROP * cos(tow.critical_angle(LINE, TOLD.speed))
            if abs(each.up - reach) > INCH:
                assert each.clear == (each.up > reach)
    assert clear[0] == 0
    assert clear[-1] >= 5
    assert clear == sorted(clear)
    assert shines == sorted(shines, reverse=True)
