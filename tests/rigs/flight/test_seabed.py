"""
Chains by moorpy, a library for mooring lines by other authors with other equations.

It has no bars: pieces of elastic catenary, hanging or partly on a bottom without friction.
"""

import numpy as np
import pytest
from moorpy.Catenary import catenary

from rigs.physics.flight.solve import settle

from .lines import in_a_plane, pieces, sagging, system

HEAVY = 22.0  # N/m, about 3/8 in chain in sea water
STIFF = 2e5
COUNT = 200


def at_rest(span, rise, length, *, rubs, count=COUNT, bears=None):
    """Return (places, newtons on the two ends) of a chain of bars between two held ends."""
    chain = system(
        pieces(count, length, stiff=STIFF, heavy=HEAVY),
        in_a_plane(count + 1),
        rubs=rubs,
        bears=length / count / 5 if bears is None else bears,
    )
    start = sagging((0.0, 0.0, 0.0), (span, 0.0, rise), count + 1, 0.05)
    at = settle(chain, start).at
    return at, chain.forces(at)[[0, -1]]


@pytest.mark.parametrize(("span", "rise", "length"), [(6.0, 3.0, 7.5), (10.0, 1.0, 10.5)])
def test_a_hanging_chain_pulls_as_moorpy_has_it(span, rise, length):
    __, ends = at_rest(span, rise, length, rubs=None)
    # Below nothing, its CB takes the bottom away by so much.
    aft, up, fore, down, __ = catenary(span, rise, length, STIFF, HEAVY, CB=-50.0)
    theirs = np.array([[aft, up], [fore, down]])
    # These are the pulls on what holds the chain, too.
    assert ends[:, [0, 2]] == pytest.approx(theirs, abs=2e-4 * HEAVY * length)


LYING = [(18.0, 3.0, 18.5), (12.0, 2.0, 12.5), (20.0, 1.0, 20.1)]  # span, rise and length


@pytest.mark.parametrize(("span", "rise", "length"), LYING)
def test_a_chain_partly_on_the_bottom_lies_and_pulls_as_moorpy_has_it(span, rise, length):
    at, ends = at_rest(span, rise, length, rubs=0.0)
    __, __, fore, down, more = catenary(span, rise, length, STIFF, HEAVY, CB=0.0)
    assert more["LBot"] > length / 3  # else this would not be about the bottom
    assert ends[1, [0, 2]] == pytest.approx([fore, down], rel=0.005)
    # It sinks in by some 3 mm and bends up softly: what is no higher than 2 mm lies.
    lying = (at[:, 2] < 0.002).sum() / COUNT * length
    assert lying == pytest.approx(more["LBot"], abs=0.03 * length)


@pytest.mark.parametrize(("span", "rise", "length"), LYING)
def test_a_bottom_that_bears_nodes_as_in_a_net_fakes_two_hundredths_of_the_pull(span, rise, length):
    """There each node is borne in whole, however short its bars; the push sets in softly."""
    __, ends = at_rest(span, rise, length, rubs=0.0, count=30, bears=1.0)
    __, __, fore, down, __ = catenary(span, rise, length, STIFF, HEAVY, CB=0.0)
    assert ends[1, [0, 2]] == pytest.approx([fore, down], rel=0.02)
