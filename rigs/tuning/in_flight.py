"""
A net's own log as evidence of how the whole net flies.

``beliefs`` fits the model of flight to what the shine showed, ``cases`` draws nets that may be
this one; both are remembered for a while, since one net is asked about again and again.
"""

from collections.abc import Iterable
from functools import lru_cache
from itertools import groupby

from rigs.physics import flight
from rigs.physics.flight.believed import NINE_IN_TEN
from rigs.words.gear import Rig
from rigs.words.units import INCH

from .log import TowHeights

READ = 1.5 * INCH
"""How well shine is read, as one standard deviation: a worn stretch has no sharp end. An
assumption, no source."""

RECENT = 3
"""The latest tows that evidence rests on, all made with one rig at one speed or so."""


def seen(read: Iterable[TowHeights]) -> tuple[flight.Seen, ...]:
    """
    Return what the latest of ``read``, oldest first and each naming its rig, tell of flight.

    Only of droppers that hang free; with a sweep shine tells of the sweep.
    """
    free = [each for each in read if each.tow.rig is not None and each.tow.rig.sweep is None]
    groups = [list(tows) for __, tows in groupby(free, key=lambda each: each.tow.rig)]
    if not groups:
        return ()
    return tuple(_seen(each) for each in groups[-1][-RECENT:])


def _seen(told: TowHeights) -> flight.Seen:
    rig = told.tow.rig
    assert rig is not None
    readings = tuple(
        flight.Reading(
            each.position,
            each.model,
            max(READ, (each.high - each.low) / 2 / NINE_IN_TEN),
            each.at_least,
        )
        for each in told.places
    )
    return flight.Seen(rig, readings, told.tow.speed)


@lru_cache(maxsize=32)
def beliefs(cut_for: Rig, told: flight.Told, evidence: tuple[flight.Seen, ...]) -> flight.Beliefs:
    """
    Return the flight.Beliefs of a net whose netting was cut for ``cut_for``.

    Raise ValueError, in words, for what has to be measured first; KeyError for chain that nobody
    sells; flight.NotAtRest if the net comes to no steady flight.
    """
    return flight.fit(flight.believe(cut_for, told), evidence)


# Twenty nets each: a few megabytes.
@lru_cache(maxsize=6)
def cases(
    cut_for: Rig, told: flight.Told, evidence: tuple[flight.Seen, ...], before: Rig
) -> flight.Cases:
    """Return the flight.Cases of ``beliefs``, flown with ``before``; raises what that raises."""
    return flight.draw(beliefs(cut_for, told, evidence), before)
