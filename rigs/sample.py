"""
Legal rigs drawn at random, for exercises and for tests.

Sizes fall on the inches and half feet that people use, so that every place on the
net can be said and typed exactly.
"""

from . import layout
from .gear import (
    PORT,
    SIDES,
    Codend,
    Dropper,
    Footrope,
    Grate,
    GroundCable,
    Headrope,
    Leg,
    Rig,
    Sweep,
)
from .rulebook import ROUNDING
from .units import FATHOM, FOOT, INCH

# Sizes that are made or sold, in inches, smallest first (common practice, no source).
_WIRES = (3 / 8, 7 / 16, 1 / 2, 9 / 16, 5 / 8, 3 / 4, 7 / 8, 1)
CHAINS = (1 / 4, 5 / 16, 3 / 8, 1 / 2)
FLOATS = (6, 7, 8, 9, 10, 11)
CHAIN_LADDER = tuple(
    size * INCH for size in (3 / 16, 1 / 4, 5 / 16, 3 / 8, 7 / 16, 1 / 2, 5 / 8, 3 / 4)
)
"""Every size of chain that is sold, in metres, lightest first; not all turn up on a net."""


def wires():
    """Return the wire sizes in metres that turn up on deck, thinnest first."""
    return tuple(size * INCH for size in _WIRES)


def chains():
    """Return the chain sizes in metres that turn up on deck, lightest first."""
    return tuple(size * INCH for size in CHAINS)


def float_sizes():
    """Return the float diameters in metres that turn up on deck, smallest first."""
    return tuple(size * INCH for size in FLOATS)


def _upto(rng, sizes, requirement):
    return rng.choice([s for s in sizes if s <= requirement.limit + ROUNDING][-3:])


def _half_feet(rng, low, high):
    """Return a length in metres between ``low`` and ``high`` feet, in half feet."""
    return rng.randint(round(low * 2), round(high * 2)) * FOOT / 2


def footrope(rng, rulebook, difficulty=1):
    """
    Return a footrope to hang droppers on.

    At difficulty 1 both wings are alike and take a whole number of intervals; at
    2 they are alike with something left over; at 3 they differ.
    """
    interval = rulebook.requirement("dropper_spacing").limit
    bosom = rng.randint(5, 12) * 2 * FOOT
    if difficulty == 1:
        wing = rng.randint(1, 4) * interval
        return Footrope(bosom, wing, wing)
    port = _half_feet(rng, 10, 40)
    if difficulty == 2:
        return Footrope(bosom, port, port)
    starboard = max(_half_feet(rng, 10, 40), interval)
    return Footrope(bosom, port, starboard)


def _sweep(rng, rulebook, rope, hung):
    extra = rulebook.requirement("sweep_excess_each_side").limit
    halves = {side: abs(rope.end(side)) + extra + rng.randint(0, 6) * INCH for side in SIDES}
    chain = _upto(rng, chains(), rulebook.requirement("sweep_stock"))
    square = tuple(
        Dropper(each.position, each.length, each.diameter, each.count, sweep_position=each.position)
        for each in hung
    )
    return Sweep(halves[PORT], halves["starboard"], chain), square


def legal_rig(rng, rulebook, difficulty=1, rope=None):
    """
    Return a Rig that ``rulebook`` passes in every requirement, practice included.

    ``rng`` is a random.Random. The higher the ``difficulty`` (1 to 3), the nearer
    the sizes lie to their limits and the less even the net. ``rope`` is its Footrope if it
    is to have a certain one.
    """
    rope = rope or footrope(rng, rulebook, difficulty)
    most = rulebook.requirement("footrope_excess").limit
    steps = round(most / FOOT)
    shorter = rng.randint(4, 12) if difficulty < 3 else rng.choice([1, 2, steps - 1, steps])
    head = Headrope(rope.length - shorter * FOOT)
    length = rulebook.requirement("dropper_length").limit + rng.randint(0, 6) * INCH
    chain = _upto(rng, chains(), rulebook.requirement("dropper_stock"))
    hung = layout.droppers(rope, rulebook, length, chain)
    sweep = None
    if rulebook.has("sweep_stock"):
        sweep, hung = _sweep(rng, rulebook, rope, hung)
    ball = rulebook.requirement("float_diameter").limit + rng.choice([0, 0, 1, 2]) * INCH
    wire = rulebook.requirement("door_to_wing_end").limit
    leg = rng.randint(5, 12) * FATHOM
    cable = wire - leg - (0 if difficulty == 3 else rng.randint(2, 10) * FATHOM)
    top = _upto(rng, wires(), rulebook.requirement("top_leg_wire"))
    bottom = _upto(rng, wires(), rulebook.requirement("bottom_leg_wire"))
    ground = _upto(rng, wires(), rulebook.requirement("ground_cable_wire"))
    codend = grate = vessel = None
    if rulebook.has("mesh_size"):
        vessel = rng.randint(42, 80) * FOOT
        large = rulebook.requirement("mesh_count_long")
        small = rulebook.requirement("mesh_count_short")
        need = large.limit if vessel > large.vessel_over else small.limit
        mesh = rulebook.requirement("mesh_size").limit + rng.randint(0, 2) * INCH / 4
        codend = Codend(mesh, need + rng.choice([0, 5, 20]))
    if rulebook.has("grate_bar_gap"):
        gap = rulebook.requirement("grate_bar_gap").limit - rng.randint(0, 10) / 1000
        width = rng.randint(30, 42) * INCH
        grate = Grate(gap, width, width + rng.randint(0, 6) * INCH)
    return Rig(
        headrope=head,
        footrope=rope,
        droppers=hung,
        floats=layout.floats(head, rulebook, ball),
        legs=tuple(Leg(side, leg, leg, top, bottom) for side in SIDES),
        ground_cables=tuple(GroundCable(side, cable, ground) for side in SIDES),
        sweep=sweep,
        codend=codend,
        grate=grate,
        vessel_length=vessel,
    )
