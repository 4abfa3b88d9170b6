"""
Near misses: a legal rig spoilt in one requirement and in no other.

Exercises take their faults from here, and every one is put before the judge, so
that no answer is ever typed in.
"""

from dataclasses import replace

from .gear import SIDES, Sweep
from .judge import judge
from .layout import floats
from .rulebook import ROUNDING
from .sample import chains, float_sizes, wires
from .units import FATHOM, FOOT, INCH


class CannotSpoil(Exception):
    """No way was found to break just the one requirement on this rig."""


def _swap(parts, index, **changes):
    return (*parts[:index], replace(parts[index], **changes), *parts[index + 1 :])


def _above(sizes, requirement):
    return next(size for size in sizes if size > requirement.limit + ROUNDING)


def _small_float(rig, requirement, rng):
    small = [s for s in float_sizes() if s < requirement.limit - ROUNDING][-1]
    return replace(rig, floats=_swap(rig.floats, rng.randrange(len(rig.floats)), diameter=small))


def _float_gone(rig, requirement, rng):
    inner = rng.randrange(1, len(rig.floats) - 1)
    return replace(rig, floats=rig.floats[:inner] + rig.floats[inner + 1 :])


def _cookies_on_cable(rig, requirement, rng):
    side = rng.randrange(len(rig.ground_cables))
    return replace(rig, ground_cables=_swap(rig.ground_cables, side, bare_wire=False))


def _thick(part, size, field):
    def spoil(rig, requirement, rng):
        parts = getattr(rig, part)
        changes = {field: _above(size(), requirement)}
        return rig.with_(**{part: _swap(parts, rng.randrange(len(parts)), **changes)})

    return spoil


def _long_top_leg(rig, requirement, rng):
    index = rng.randrange(len(rig.legs))
    leg = rig.legs[index]
    shorter = leg.bottom_length - rng.randint(3, 24) * INCH
    return replace(rig, legs=_swap(rig.legs, index, bottom_length=shorter))


def _extension(rig, requirement, rng):
    return replace(rig, legs=_swap(rig.legs, rng.randrange(len(rig.legs)), extended=True))


def _long_cable(rig, requirement, rng):
    index = rng.randrange(len(rig.ground_cables))
    cable = rig.ground_cables[index]
    leg = next(leg for leg in rig.legs if leg.side == cable.side)
    length = requirement.limit - leg.top_length + rng.randint(1, 4) * FATHOM
    return replace(rig, ground_cables=_swap(rig.ground_cables, index, length=length))


def _rehung(rig, length, rulebook):
    """Return ``rig`` with its headrope made ``length`` metres and its floats set anew."""
    head = replace(rig.headrope, length=length)
    return replace(rig, headrope=head, floats=floats(head, rulebook, rig.floats[0].diameter))


def _long_headrope(rig, requirement, rng, rulebook):
    return _rehung(rig, rig.footrope.length + rng.randint(0, 4) * FOOT / 2, rulebook)


def _short_headrope(rig, requirement, rng, rulebook):
    excess = requirement.limit + rng.randint(1, 6) * FOOT / 2
    return _rehung(rig, rig.footrope.length - excess, rulebook)


def _on_bottom(rig, requirement, rng):
    return replace(rig, footrope=replace(rig.footrope, off_bottom=False))


def _sweep_left_on(rig, requirement, rng):
    halves = [abs(rig.footrope.end(side)) + rng.randint(6, 36) * INCH for side in SIDES]
    return replace(rig, sweep=Sweep(*halves, rng.choice(chains())))


def _weighted_dropper(rig, requirement, rng):
    return replace(rig, droppers=_swap(rig.droppers, rng.randrange(len(rig.droppers)), bare=False))


def _short_dropper(rig, requirement, rng):
    short = requirement.limit - rng.randint(1, 8) * INCH
    index = rng.randrange(len(rig.droppers))
    return replace(rig, droppers=_swap(rig.droppers, index, length=short))


def _nearest(rig, position):
    return min(range(len(rig.droppers)), key=lambda i: abs(rig.droppers[i].position - position))


def _move(rig, index, step):
    each = rig.droppers[index]
    changes = {"position": each.position + step}
    if each.sweep_position is not None:
        changes["sweep_position"] = each.sweep_position + step
    return replace(rig, droppers=_swap(rig.droppers, index, **changes))


def _off_the_centre(rig, requirement, rng):
    index = _nearest(rig, 0.0)
    if rng.random() < 0.5:
        return _move(rig, index, rng.choice([-1, 1]) * rng.randint(4, 18) * INCH)
    return replace(rig, droppers=rig.droppers[:index] + rig.droppers[index + 1 :])


def _off_the_corner(rig, requirement, rng):
    side = rng.choice(SIDES)
    index = _nearest(rig, rig.footrope.corner(side))
    if rng.random() < 0.5:
        inward = 1 if rig.footrope.corner(side) < 0 else -1
        return _move(rig, index, inward * rng.randint(4, 18) * INCH)
    return replace(rig, droppers=rig.droppers[:index] + rig.droppers[index + 1 :])


def _wide_gap(rig, requirement, rng):
    on_wings = [
        i
        for i, each in enumerate(rig.droppers)
        if abs(each.position) > rig.footrope.bosom / 2 + ROUNDING
    ]
    if not on_wings:
        raise CannotSpoil
    index = rng.choice(on_wings)
    outer = index in (0, len(rig.droppers) - 1)
    if outer and rng.random() < 0.4:
        inward = 1 if rig.droppers[index].position < 0 else -1
        return _move(rig, index, inward * rng.randint(6, 24) * INCH)
    return replace(rig, droppers=rig.droppers[:index] + rig.droppers[index + 1 :])


def _sweep_change(**make):
    def spoil(rig, requirement, rng):
        return replace(rig, sweep=replace(rig.sweep, **make))

    return spoil


def _sweep_thick(rig, requirement, rng):
    thick = _above(chains(), requirement)
    return replace(rig, sweep=replace(rig.sweep, diameter=thick))


def _leaning(rig, requirement, rng):
    index = rng.randrange(1, len(rig.droppers) - 1)
    each = rig.droppers[index]
    lean = rng.choice([-1, 1]) * rng.randint(3, 12) * INCH
    return replace(rig, droppers=_swap(rig.droppers, index, sweep_position=each.position + lean))


def _small_mesh(rig, requirement, rng):
    mesh = requirement.limit - rng.randint(1, 4) * INCH / 8
    return replace(rig, codend=replace(rig.codend, mesh=mesh))


def _short_mesh(rig, requirement, rng):
    counted = requirement.limit - rng.randint(1, 12)
    return replace(rig, codend=replace(rig.codend, counted=counted))


def _codend_change(**make):
    def spoil(rig, requirement, rng):
        return replace(rig, codend=replace(rig.codend, **make))

    return spoil


def _open_bars(rig, requirement, rng):
    gap = requirement.limit + rng.randint(1, 12) / 1000
    return replace(rig, grate=replace(rig.grate, bar_gap=gap))


def _narrow_outlet(rig, requirement, rng):
    outlet = rig.grate.width - rng.randint(1, 8) * INCH
    return replace(rig, grate=replace(rig.grate, outlet_width=outlet))


def _grate_change(**make):
    def spoil(rig, requirement, rng):
        return replace(rig, grate=replace(rig.grate, **make))

    return spoil


_SPOILERS = {
    "float_diameter": _small_float,
    "float_spacing": _float_gone,
    "ground_gear_bare": _cookies_on_cable,
    "top_leg_wire": _thick("legs", wires, "top_diameter"),
    "bottom_leg_wire": _thick("legs", wires, "bottom_diameter"),
    "ground_cable_wire": _thick("ground_cables", wires, "diameter"),
    "legs_equal": _long_top_leg,
    "legs_not_extended": _extension,
    "door_to_wing_end": _long_cable,
    "off_bottom": _on_bottom,
    "no_sweep": _sweep_left_on,
    "dropper_bare": _weighted_dropper,
    "dropper_stock": _thick("droppers", chains, "diameter"),
    "dropper_length": _short_dropper,
    "dropper_at_centre": _off_the_centre,
    "dropper_at_corners": _off_the_corner,
    "dropper_spacing": _wide_gap,
    "sweep_stock": _sweep_thick,
    "sweep_bare": _sweep_change(bare=False),
    "sweep_joins_leg": _sweep_change(joins_with_footrope=False),
    "sweep_attachment": _leaning,
    "mesh_size": _small_mesh,
    "mesh_count_long": _short_mesh,
    "mesh_count_short": _short_mesh,
    "mesh_top_clear": _codend_change(top_clear=False),
    "mesh_not_blocked": _codend_change(mesh_clear=False),
    "grate_bar_gap": _open_bars,
    "grate_outlet": _narrow_outlet,
    "grate_stiff": _grate_change(stiff=False),
    "grate_position": _grate_change(ahead_of_codend=False),
}
_REHUNG = {"footrope_longer": _long_headrope, "footrope_excess": _short_headrope}

# The three lengths of a sweep have no spoiler: a sweep too short on one side is also
# too short at that wing end and may be in all, so none of the three breaks alone.


def spoilable(rulebook, rig=None, customs=False):
    """
    Return the keys of the requirements of ``rulebook`` that can be broken singly.

    With a ``rig``, leave out those that do not bind a vessel of its length. What is done
    by custom is left out, unless ``customs`` asks for it: nobody breaks a rule by doing
    otherwise.
    """
    return tuple(
        r.key
        for r in rulebook.requirements
        if (r.key in _SPOILERS or r.key in _REHUNG)
        and (customs or not r.by_custom)
        and (rig is None or r.applies_to(rig, None))
    )


def spoil(rig, key, rng, rulebook, difficulty=1, suits=None):
    """
    Return ``rig`` changed so that it newly fails requirement ``key`` and nothing else.

    ``suits``, if given, is asked of each rig that would do, and may turn it down. Raise
    CannotSpoil if none of many tries at random does so, as when a rig has no
    wing droppers to take away.
    """
    before = judge(rig, rulebook).missed_keys
    requirement = rulebook.requirement(key)
    for _ in range(40):
        try:
            if key in _REHUNG:
                spoilt = _REHUNG[key](rig, requirement, rng, rulebook)
            else:
                spoilt = _SPOILERS[key](rig, requirement, rng)
        except (ValueError, IndexError) as error:
            raise CannotSpoil(key) from error
        fails_just_that = judge(spoilt, rulebook).missed_keys == before | {key}
        if fails_just_that and (suits is None or suits(spoilt)):
            return spoilt
    raise CannotSpoil(key)


def spoil_many(rig, keys, rng, rulebook, difficulty=1, suits=None):
    """
    Return ``rig`` changed so that it newly fails each of ``keys`` and nothing else.

    No fault hides another or undoes it. ``suits`` is as for ``spoil``. Raise CannotSpoil
    if none of several tries does so, as when the keys gainsay each other.
    """
    # A new headrope comes with new floats, which would undo what was done to the old.
    ordered = sorted(keys, key=lambda key: key not in _REHUNG)
    for _ in range(5):
        try:
            spoilt = rig
            for key in ordered:
                spoilt = spoil(spoilt, key, rng, rulebook, difficulty, suits)
        except CannotSpoil:
            continue
        return spoilt
    raise CannotSpoil(", ".join(ordered))
