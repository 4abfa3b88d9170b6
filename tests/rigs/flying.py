"""An invented net and changes to it, in flight."""

from dataclasses import replace
from functools import lru_cache

from rigs.make.changes import more_floats
from rigs.physics.flight import Told, believe, custom, fit
from rigs.words.gear import (
    SIDES,
    STARBOARD,
    Dropper,
    Float,
    Footrope,
    GroundCable,
    Headrope,
    Leg,
    Rig,
    Sweep,
)
from rigs.words.units import FATHOM, FOOT, INCH

SPEED = 1.5
HEAD = 70 * FOOT
FLOATS = 21


def net():
    """Return a net that flies with its droppers on the bottom, alike on both sides."""
    places = [0.0, *(side * (10 + 8 * i) * FOOT for side in (-1, 1) for i in range(4))]
    return Rig(
        headrope=Headrope(HEAD),
        footrope=Footrope(20 * FOOT, 30 * FOOT, 30 * FOOT),
        droppers=tuple(Dropper(place, 42 * INCH, 3 / 8 * INCH) for place in sorted(places)),
        floats=tuple(Float(HEAD * (i / (FLOATS - 1) - 0.5), 8 * INCH) for i in range(FLOATS)),
        legs=tuple(Leg(side, 10 * FATHOM, 10 * FATHOM, INCH / 2, INCH / 2) for side in SIDES),
        ground_cables=tuple(GroundCable(side, 15 * FATHOM, 3 / 4 * INCH) for side in SIDES),
    )


def buoyant():
    """Return the net with four more floats: it rises."""
    return more_floats(net(), 4)


def clear():
    """Return the net with so many floats that its droppers hang clear of the bottom."""
    return more_floats(net(), 20)


def lopsided():
    """Return the net with a bottom leg 3 in longer on starboard: it sinks there most."""
    legs = tuple(
        replace(leg, bottom_length=leg.bottom_length + 3 * INCH) if leg.side == STARBOARD else leg
        for leg in net().legs
    )
    return net().with_(legs=legs)


def lying():
    """Return the net with so much chain and so few floats that its wing ends lie down."""
    made = net()
    heavy = tuple(replace(dropper, count=14) for dropper in made.droppers)
    return made.with_(floats=made.floats[::2], droppers=heavy)


def swept():
    """Return the net with its droppers on a sweep."""
    made = net()
    joined = tuple(replace(each, sweep_position=each.position) for each in made.droppers)
    return made.with_(sweep=Sweep(43 * FOOT, 43 * FOOT, 5 / 16 * INCH), droppers=joined)


@lru_cache(maxsize=1)
def beliefs():
    """Return what is believed of the net, taken to fly as practice has it."""
    return fit(believe(net(), Told(SPEED)), [custom(net())])


@lru_cache(maxsize=16)
def flown(rig):
    """Return ``rig``, which is the net or a change to it, in flight."""
    return beliefs().fly(rig, beliefs().flown(net()))
