"""Legs and ground cables near a limit."""

from dataclasses import replace

from rigs.words.gear import SIDES
from rigs.words.sizes import THINNEST_WIRE
from rigs.words.units import FOOT, INCH, ROUNDING, fathoms_and_feet, inches

_GAUGED = INCH / 16  # how finely wire is gauged (common practice, no source)


def _thinner(making, wire):
    return max(THINNEST_WIRE, wire - making.rng.randint(0, 3) * _GAUGED)


def leg_wire(making):
    """The wire of all four legs, since a wire that will do below is too thick above."""
    at_top = making.requirement.key == "top_leg_wire"
    other_limit = making.rulebook.requirement("bottom_leg_wire" if at_top else "top_leg_wire").limit
    worst = making.reading()
    sizes = making.mixed(worst, max(THINNEST_WIRE, *making.beside(worst, 1)))
    legs, lines = [], []
    for leg, size in zip(making.rig.legs, sizes, strict=True):
        other = _thinner(making, other_limit)
        top, bottom = (size, other) if at_top else (other, size)
        legs.append(replace(leg, top_diameter=top, bottom_diameter=bottom))
        lines.append(
            f"{leg.side.capitalize()}: top leg {inches(top)} wire, bottom leg {inches(bottom)}."
        )
    return making.rig.with_(legs=tuple(legs)), tuple(lines)


def cable_wire(making):
    """The wire of both ground cables, and of a leg, which goes by another rule."""
    worst = making.reading()
    sizes = making.mixed(worst, max(THINNEST_WIRE, *making.beside(worst, 1)))
    cables = tuple(
        replace(cable, diameter=size)
        for cable, size in zip(making.rig.ground_cables, sizes, strict=True)
    )
    rig = making.rig.with_(ground_cables=cables)
    legs = {leg.side: leg for leg in rig.legs}
    return rig, tuple(
        f"{cable.side.capitalize()}: ground cable {inches(cable.diameter)} wire, "
        f"bottom leg {inches(legs[cable.side].bottom_diameter)}."
        for cable in cables
    )


def leg_lengths(making):
    """Two lengths, each had by two of the four legs: which two is what it turns on."""
    longer = making.rig.legs[0].top_length - making.rng.randint(0, 11) * INCH
    shorter = longer - making.limit - making.apart()
    if making.broken:
        tops = making.mixed(longer, shorter) if making.rng.random() < 0.5 else [longer] * 2
        pairs = [(top, longer if top < longer else shorter) for top in tops]
        if tops[0] == tops[1] and making.rng.random() < 0.5:
            pairs = [(bottom, top) for top, bottom in pairs]
    else:
        pairs = making.mixed((longer, longer), (shorter, shorter))
    legs = tuple(
        replace(leg, top_length=top, bottom_length=bottom)
        for leg, (top, bottom) in zip(making.rig.legs, pairs, strict=True)
    )
    return making.rig.with_(legs=legs), tuple(
        f"{leg.side.capitalize()}: top leg {fathoms_and_feet(leg.top_length)}, "
        f"bottom leg {fathoms_and_feet(leg.bottom_length)}."
        for leg in legs
    )


def door_to_wing_end(making):
    """Cable and legs of both sides, to be added up."""
    worst = making.reading()
    totals = dict(zip(SIDES, making.mixed(worst, *making.beside(worst, 1)), strict=True))
    legs, cables, lines = [], [], []
    for leg, cable in zip(making.rig.legs, making.rig.ground_cables, strict=True):
        length = leg.top_length - making.rng.randint(0, 11) * FOOT / 2
        rest = totals[leg.side] - length
        if rest <= ROUNDING:
            return None
        legs.append(replace(leg, top_length=length, bottom_length=length))
        cables.append(replace(cable, length=rest))
        lines.append(
            f"{leg.side.capitalize()}: ground cable {fathoms_and_feet(rest)}, "
            f"top and bottom leg {fathoms_and_feet(length)} each."
        )
    return making.rig.with_(legs=tuple(legs), ground_cables=tuple(cables)), tuple(lines)
