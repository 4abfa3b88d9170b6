"""
Rigs whose measures keep off their limits, on either side, by more than a drawing can hide.

On a drawing nobody can tell a gap at the limit from one a hair over it. Here ``room``
maps keys of requirements to the metres by which every reading has to miss its limit.
"""

from dataclasses import replace

from rigs.requirements import layout
from rigs.requirements.floats import even_floats
from rigs.rules.judge import judge
from rigs.words import sizes
from rigs.words.gear import SIDES, Dropper, Headrope
from rigs.words.units import FATHOM, FOOT, INCH, ROUNDING

from . import sample

_FINEST = INCH / 32  # between two sizes that are sold


def stands_clear(rig, rulebook, room):
    """
    Return whether each reading of ``rig`` lies off its limit by as much as ``room`` says.

    Where no difference at all is allowed, none at all stands clear as well.
    """
    return all(
        _is_clear(value, rulebook.requirement(key), least)
        for key, least in room.items()
        if rulebook.has(key)
        for value in _values(rig, rulebook.requirement(key))
    )


def _values(rig, requirement):
    values, _ = requirement.read(rig) or ((), ())
    return [value for value in values if value is not None]


def _is_clear(value, requirement, least):
    if requirement.limit == 0 and requirement.test == "at most" and value <= ROUNDING:
        return True
    return abs(value - requirement.limit) >= least - ROUNDING


def roomy_rig(rng, rulebook, room=None, difficulty=1):
    """
    Return a Rig that ``rulebook`` passes in every requirement, clear of its limits.

    ``rng`` is a random.Random, ``room`` is as above, nothing unless it is given; it must
    leave something between the sizes that are sold, or none would ever be found. How the
    parts are sized says nothing of where their limits are.
    """
    while True:
        rig = _eased(sample.legal_rig(rng, rulebook, difficulty), rng, rulebook, difficulty)
        if not judge(rig, rulebook).missed_keys and stands_clear(rig, rulebook, room or {}):
            return rig


def _eased(rig, rng, rulebook, difficulty):
    """Return a legal ``rig`` with everything that was at its limit drawn back from it."""
    head = _headrope(rig, rng, rulebook, difficulty)
    return replace(
        rig,
        headrope=head,
        droppers=_droppers(rig, rng, rulebook),
        floats=even_floats(head, rng, rulebook, _float_size(rng, rulebook)),
        legs=tuple(_thinner(rig.legs, rng, rulebook)),
        ground_cables=tuple(_cables(rig, rng, rulebook)),
        sweep=_sweep(rig, rng, rulebook),
    )


def _headrope(rig, rng, rulebook, difficulty):
    most = round(rulebook.requirement("footrope_excess").limit / FOOT)
    shorter = rng.randint(4, 12) if difficulty < 3 else rng.choice([1, 2, most - 2, most - 1])
    return Headrope(rig.footrope.length - shorter * FOOT)


def _below(rng, sold, limit):
    return rng.choice([size for size in sold if size < limit - _FINEST][-2:])


def _droppers(rig, rng, rulebook):
    """Return droppers closer along the wings than they need be, longer and of thinner chain."""
    rope = rig.footrope
    interval = rulebook.requirement("dropper_spacing").limit - rng.randint(1, 4) * INCH * 6
    places = [0.0]
    for side in SIDES:
        corner = rope.corner(side)
        sign = -1 if corner < 0 else 1
        out = layout.wing_positions(rope.wing(side), interval)
        places += [corner, *(corner + sign * each for each in out)]
    length = rulebook.requirement("dropper_length").limit + rng.randint(3, 10) * INCH
    chain = _below(rng, sizes.chains(), rulebook.requirement("dropper_stock").limit)
    return tuple(
        Dropper(at, length, chain, sweep_position=None if rig.sweep is None else at)
        for at in sorted(places)
    )


def _float_size(rng, rulebook):
    least = rulebook.requirement("float_diameter").limit
    return rng.choice([each for each in sizes.floats() if each > least + _FINEST][:2])


def _sweep(rig, rng, rulebook):
    """Return the sweep with slack to spare on both sides, None if there is none."""
    if rig.sweep is None:
        return None
    chain = _below(rng, sizes.chains(), rulebook.requirement("sweep_stock").limit)
    extra = rulebook.requirement("sweep_excess_each_side").limit
    halves = [abs(rig.footrope.end(side)) + extra + rng.randint(26, 48) * INCH for side in SIDES]
    return replace(rig.sweep, port=halves[0], starboard=halves[1], diameter=chain)


def _thinner(legs, rng, rulebook):
    top, bottom = (
        _below(rng, sizes.wires(), rulebook.requirement(key).limit)
        for key in ("top_leg_wire", "bottom_leg_wire")
    )
    return (replace(leg, top_diameter=top, bottom_diameter=bottom) for leg in legs)


def _cables(rig, rng, rulebook):
    """Yield ground cables that end well before the longest that is allowed with the leg."""
    wire = _below(rng, sizes.wires(), rulebook.requirement("ground_cable_wire").limit)
    whole = rulebook.requirement("door_to_wing_end").limit - rng.randint(2, 8) * FATHOM
    for cable in rig.ground_cables:
        leg = next(leg for leg in rig.legs if leg.side == cable.side)
        yield replace(cable, length=whole - leg.top_length, diameter=wire)
