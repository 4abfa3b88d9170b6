"""
Legal rigs drawn at random, for exercises and for tests.

Sizes fall on the inches and half feet that people use, so that every place on the
net can be said and typed exactly. How near they lie to their limits goes by ``spans``.
"""

from rigs.requirements import layout
from rigs.words import sizes
from rigs.words.gear import (
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
from rigs.words.units import FATHOM, FOOT, INCH, ROUNDING


def _upto(rng, sold, requirement):
    return rng.choice([s for s in sold if s <= requirement.limit + ROUNDING][-3:])


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


def _sound(rng, rulebook, key, level):
    """Return a reading in SI that keeps the requirement ``key``, as near as ``level`` has it."""
    rule = rulebook.requirement(key)
    return rule.measure.scale.reading(rng, rule, broken=False, level=level)


def _longer(rng, rulebook, level):
    """Return by how many metres a footrope is longer: a little, or nearly too much."""
    edge = rng.choice(["footrope_longer", "footrope_excess"])
    return _sound(rng, rulebook, edge, level)


def _sweep(rng, rulebook, rope, hung, level):
    halves = {
        side: abs(rope.end(side)) + _sound(rng, rulebook, "sweep_excess_each_side", level)
        for side in SIDES
    }
    chain = _upto(rng, sizes.chains(), rulebook.requirement("sweep_stock"))
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
    head = Headrope(rope.length - _longer(rng, rulebook, difficulty))
    length = _sound(rng, rulebook, "dropper_length", difficulty)
    chain = _upto(rng, sizes.chains(), rulebook.requirement("dropper_stock"))
    hung = layout.droppers(rope, rulebook, length, chain)
    sweep = None
    if rulebook.has("sweep_stock"):
        sweep, hung = _sweep(rng, rulebook, rope, hung, difficulty)
    ball = _sound(rng, rulebook, "float_diameter", difficulty)
    leg = rng.randint(5, 12) * FATHOM
    cable = _sound(rng, rulebook, "door_to_wing_end", difficulty) - leg
    top = _upto(rng, sizes.wires(), rulebook.requirement("top_leg_wire"))
    bottom = _upto(rng, sizes.wires(), rulebook.requirement("bottom_leg_wire"))
    ground = _upto(rng, sizes.wires(), rulebook.requirement("ground_cable_wire"))
    codend = grate = vessel = None
    if rulebook.has("mesh_size"):
        vessel = rng.randint(42, 80) * FOOT
        is_long = vessel > rulebook.requirement("mesh_count_long").vessel_over
        count = "mesh_count_long" if is_long else "mesh_count_short"
        mesh = _sound(rng, rulebook, "mesh_size", difficulty)
        codend = Codend(mesh, round(_sound(rng, rulebook, count, difficulty)))
    if rulebook.has("grate_bar_gap"):
        gap = _sound(rng, rulebook, "grate_bar_gap", difficulty)
        width = rng.randint(30, 42) * INCH
        grate = Grate(gap, width, width + _sound(rng, rulebook, "grate_outlet", difficulty))
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
