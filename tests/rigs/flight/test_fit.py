"""What was read of a net is believed of it: heights come back, and no more is set than was read."""

from dataclasses import replace

import numpy as np
import pytest

from rigs.physics.flight import Reading, Seen, believe, custom, fit
from rigs.physics.flight.believed import pull_up
from rigs.words.units import INCH

from .nets import TOLD, net

RIG = net()
SPREAD = INCH  # how exactly a height is read, one standard deviation


def true_net(**offs):
    """Return the net in flight whose unknowns are off by so many standard deviations."""
    beliefs = believe(RIG, TOLD)
    names = [each.name for each in beliefs.unknowns]
    off = beliefs.offs.copy()
    for name, value in offs.items():
        off[names.index(name)] = value
    return replace(beliefs, offs=off, _flights={}).flown(RIG)


@pytest.mark.parametrize("off", [0.2, 0.45])
def test_one_shine_brings_its_height_back_and_sets_one_number(off):
    """Read so exactly that what was believed before hardly weighs against it."""
    true = true_net(pull_up=off)
    read = true.up(0.0)
    fitted = fit(believe(RIG, TOLD), [Seen(RIG, (Reading(0.0, read, SPREAD / 10),))])
    assert fitted.flown(RIG).up(0.0) == pytest.approx(read, abs=INCH / 4)
    assert fitted.numbers == 1
    # What pulls up moves a height most, so that is what was found to be off.
    assert fitted.offs[pull_up(fitted)] == pytest.approx(off, abs=0.1)
    assert not fitted.by_custom


def test_a_coarse_reading_is_met_within_what_it_is_good_to():
    read = true_net(pull_up=0.3).up(0.0)
    fitted = fit(believe(RIG, TOLD), [Seen(RIG, (Reading(0.0, read, SPREAD),))])
    assert fitted.flown(RIG).up(0.0) == pytest.approx(read, abs=SPREAD)


def test_what_is_read_is_known_better_afterward():
    read = true_net(pull_up=0.3).up(0.0)
    before = believe(RIG, TOLD)
    after = fit(before, [Seen(RIG, (Reading(0.0, read, SPREAD),))])
    which = pull_up(before)
    assert after.left[which, which] < before.left[which, which] / 10
    values = np.linalg.eigvalsh(after.left)
    assert values.min() > -1e-9
    assert values.max() < 1 + 1e-9


def test_three_readings_set_at_most_three_numbers():
    true = true_net(pull_up=0.25, netting=1.0, wing_end=-1.0, legs=1.0)
    places = (0.0, RIG.footrope.starboard_corner, RIG.footrope.starboard_end)
    readings = tuple(Reading(each, true.up(each), SPREAD / 2) for each in places)
    fitted = fit(believe(RIG, TOLD), [Seen(RIG, readings)])
    assert 1 <= fitted.numbers <= len(readings)
    for each in readings:
        assert fitted.flown(RIG).up(each.position) == pytest.approx(each.up, abs=SPREAD)


def test_the_same_place_read_twice_sets_one_number():
    read = true_net(pull_up=0.25).up(0.0)
    fitted = fit(believe(RIG, TOLD), [Seen(RIG, (Reading(0.0, read, SPREAD),) * 2)])
    assert fitted.numbers == 1


def test_a_bound_that_the_net_keeps_changes_nothing():
    beliefs = fit(believe(RIG, TOLD), [custom(RIG)])
    now = beliefs.flown(RIG).up(0.0)
    bound = Seen(RIG, (Reading(0.0, now - 2 * INCH, SPREAD, at_least=True),))
    fitted = fit(beliefs, [bound])
    assert fitted.offs == pytest.approx(beliefs.offs, abs=1e-12)
    assert fitted.left == pytest.approx(beliefs.left, abs=1e-9)


def test_a_bound_that_the_net_breaks_raises_it():
    beliefs = fit(believe(RIG, TOLD), [custom(RIG)])
    now = beliefs.flown(RIG).up(0.0)
    bound = now + 4 * INCH
    fitted = fit(beliefs, [Seen(RIG, (Reading(0.0, bound, SPREAD / 4, at_least=True),))])
    assert fitted.flown(RIG).up(0.0) == pytest.approx(bound, abs=INCH)


@pytest.mark.parametrize("rig", [RIG, net(80, 70, 20, 17)], ids=["middle", "large"])
def test_by_custom_a_bosom_flies_about_eighteen_inches_high(rig):
    """One to two feet, common practice, no source; the middle of it from corner to corner."""
    fitted = fit(believe(rig, TOLD), [custom(rig)])
    mean = np.mean([point.up for point in fitted.flown(rig).points[1:-1]])
    assert mean == pytest.approx(18 * INCH, abs=INCH)
    assert fitted.by_custom
    assert fitted.numbers == 1
