"""Invented nets: no boat has them."""

from dataclasses import replace

import numpy as np

from rigs.physics.flight import Told
from rigs.words.gear import (
    PORT,
    SIDES,
    Dropper,
    Float,
    Footrope,
    GroundCable,
    Headrope,
    Leg,
    Rig,
    Sweep,
)
from rigs.words.units import FATHOM, FOOT, INCH, KNOT

TOLD = Told(speed=2.5 * KNOT)
DROP, CHAIN, FLOAT = 42 * INCH, 3 / 8 * INCH, 8 * INCH
LEG = 10 * FATHOM


def net(foot=60, head=52, bosom=14, floats=13):
    """Return a rig alike on both sides; lengths in feet, droppers every 8 ft on its wings."""
    wing = (foot - bosom) / 2
    rope = Footrope(bosom * FOOT, wing * FOOT, wing * FOOT)
    out = [bosom / 2 + 8 * i for i in range(int(wing / 8) + 1)]
    places = sorted([0.0, *out, *(-each for each in out)])
    return Rig(
        headrope=Headrope(head * FOOT),
        footrope=rope,
        droppers=tuple(Dropper(each * FOOT, DROP, CHAIN) for each in places),
        floats=floated(head, floats),
        legs=tuple(Leg(side, LEG, LEG, INCH / 2, INCH / 2) for side in SIDES),
        ground_cables=tuple(GroundCable(side, 15 * FATHOM, 5 / 8 * INCH) for side in SIDES),
    )


def floated(head, count):
    """Return ``count`` floats, evenly spaced on all but the ends of ``head`` feet of rope."""
    places = np.linspace(-0.45, 0.45, count) * head * FOOT
    # A place at the center is one there, to the last digit.
    return tuple(Float(round(float(each), 9), FLOAT) for each in places)


def longer_leg(rig, side, *, top=0.0, bottom=0.0):
    """Return ``rig`` with legs on ``side`` longer by so many metres."""
    legs = tuple(
        replace(each, top_length=each.top_length + top, bottom_length=each.bottom_length + bottom)
        if each.side == side
        else each
        for each in rig.legs
    )
    return rig.with_(legs=legs)


def mirrored(rig):
    """Return ``rig`` with port and starboard exchanged."""
    rope = rig.footrope

    def over(parts):
        return tuple(replace(each, position=-each.position) for each in parts)

    def other(parts):
        sides = dict(zip(SIDES, reversed(SIDES), strict=True))
        return tuple(replace(each, side=sides[each.side]) for each in parts)

    return rig.with_(
        footrope=replace(rope, port_wing=rope.starboard_wing, starboard_wing=rope.port_wing),
        droppers=over(rig.droppers),
        floats=over(rig.floats),
        legs=other(rig.legs),
        ground_cables=other(rig.ground_cables),
    )


def lopsided():
    """Return a net whose port bottom leg is 3 in longer, with a float more to starboard."""
    rig = longer_leg(net(), PORT, bottom=3 * INCH)
    return rig.with_(floats=(*rig.floats, Float(8.5 * FOOT, FLOAT)))


def swept():
    """Return the net with a chain sweep that its droppers go down to."""
    rig = net()
    half = rig.footrope.starboard_end + 2 * FOOT
    return rig.with_(sweep=Sweep(half, half, 5 / 16 * INCH))
