"""
Rigs to draw and to reckon with, built from the sizes a lesson gives.

Whatever a lesson does not give is put exactly at its limit, so that a figure shows
what the rule set allows and changes with it.
"""

from django.utils.translation import gettext as _

from rigs.requirements import layout
from rigs.words.gear import (
    PORT,
    SIDES,
    STARBOARD,
    Dropper,
    Footrope,
    GroundCable,
    Headrope,
    Leg,
    Rig,
    Sweep,
)

from ..errors import TagError


def footrope(page, bosom, wing=None, port=None, starboard=None):
    """Return a Footrope from lengths as typed; ``wing`` stands for both sides."""
    if wing is not None and (port is not None or starboard is not None):
        raise TagError(_("give either “wing”, for both sides, or “port” and “starboard”"))
    port, starboard = port or wing, starboard or wing
    if port is None or starboard is None:
        raise TagError(_("the wings' lengths are missing"))
    return Footrope(page.length(bosom), page.length(port), page.length(starboard))


def _sweep(rope, hung, rulebook):
    extra = rulebook.requirement("sweep_excess_each_side").limit
    halves = {side: abs(rope.end(side)) + extra for side in SIDES}
    square = tuple(
        Dropper(each.position, each.length, each.diameter, sweep_position=each.position)
        for each in hung
    )
    chain = rulebook.requirement("sweep_stock").limit
    return Sweep(halves[PORT], halves[STARBOARD], chain), square


def rig(rulebook, rope, headrope=None):
    """
    Return a Rig on the Footrope ``rope`` that keeps ``rulebook``'s rules for gear.

    ``headrope`` in metres; half the allowed difference shorter than the footrope if None.
    """

    def most(key):
        return rulebook.requirement(key).limit

    head = Headrope(rope.length - most("footrope_excess") / 2 if headrope is None else headrope)
    hung = layout.droppers(rope, rulebook, most("dropper_length"), most("dropper_stock"))
    sweep = None
    if rulebook.has("sweep_stock"):
        sweep, hung = _sweep(rope, hung, rulebook)
    wire = most("door_to_wing_end")
    leg, cable = wire / 4, wire * 3 / 4
    return Rig(
        headrope=head,
        footrope=rope,
        droppers=hung,
        floats=layout.floats(head, rulebook, most("float_diameter")),
        legs=tuple(
            Leg(side, leg, leg, most("top_leg_wire"), most("bottom_leg_wire")) for side in SIDES
        ),
        ground_cables=tuple(GroundCable(side, cable, most("ground_cable_wire")) for side in SIDES),
        sweep=sweep,
    )
