"""
A legal rig spoilt in one requirement and in no other, by as much as the level says.

Exercises take their faults from here, and every one is put before the judge, so
that no answer is ever typed in.
"""

from dataclasses import replace

from rigs.requirements.layout import floats
from rigs.requirements.spans import LEVELS
from rigs.rules.judge import judge
from rigs.words.gear import PORT, SIDES, STARBOARD, Headrope, Sweep
from rigs.words.sizes import chains
from rigs.words.units import INCH, ROUNDING

EASIEST = LEVELS[0]


class CannotSpoil(Exception):
    """No way was found to break just the one requirement on this rig."""


def _swap(parts, index, **changes):
    return (*parts[:index], replace(parts[index], **changes), *parts[index + 1 :])


def _past(rng, requirement, level):
    """Return a reading in SI that breaks ``requirement``, as far off as ``level`` has it."""
    return requirement.measure.scale.reading(rng, requirement, broken=True, level=level)


def _small_float(rig, requirement, rng, level):
    small = _past(rng, requirement, level)
    return replace(rig, floats=_swap(rig.floats, rng.randrange(len(rig.floats)), diameter=small))


def _float_gap(rig, requirement, rng, level):
    """Take a float off, which leaves a wide gap, or shift one to leave one a little too wide."""
    inner = rng.randrange(1, len(rig.floats) - 1)
    if level == EASIEST:
        return replace(rig, floats=rig.floats[:inner] + rig.floats[inner + 1 :])
    before, here, after = rig.floats[inner - 1 : inner + 2]
    gap = _past(rng, requirement, level)
    place = rng.choice([before.position + gap, after.position - gap])
    if not before.position < place < after.position:
        raise CannotSpoil
    return replace(rig, floats=_swap(rig.floats, inner, position=place))


def _cookies_on_cable(rig, requirement, rng, level):
    side = rng.randrange(len(rig.ground_cables))
    return replace(rig, ground_cables=_swap(rig.ground_cables, side, bare_wire=False))


def _thick(part, field):
    def spoil(rig, requirement, rng, level):
        parts = getattr(rig, part)
        changes = {field: _past(rng, requirement, level)}
        return rig.with_(**{part: _swap(parts, rng.randrange(len(parts)), **changes)})

    return spoil


def _unequal_legs(rig, requirement, rng, level):
    index = rng.randrange(len(rig.legs))
    leg = rig.legs[index]
    shorter = leg.bottom_length - _past(rng, requirement, level)
    return replace(rig, legs=_swap(rig.legs, index, bottom_length=shorter))


def _extension(rig, requirement, rng, level):
    return replace(rig, legs=_swap(rig.legs, rng.randrange(len(rig.legs)), extended=True))


def _long_cable(rig, requirement, rng, level):
    index = rng.randrange(len(rig.ground_cables))
    cable = rig.ground_cables[index]
    leg = next(leg for leg in rig.legs if leg.side == cable.side)
    length = _past(rng, requirement, level) - leg.top_length
    return replace(rig, ground_cables=_swap(rig.ground_cables, index, length=length))


def _other_headrope(rig, requirement, rng, rulebook, level):
    """Return ``rig`` with a headrope too long or too short, and floats set anew along it."""
    head = Headrope(rig.footrope.length - _past(rng, requirement, level))
    return replace(rig, headrope=head, floats=floats(head, rulebook, rig.floats[0].diameter))


def _on_bottom(rig, requirement, rng, level):
    return replace(rig, footrope=replace(rig.footrope, off_bottom=False))


def _sweep_left_on(rig, requirement, rng, level):
    halves = [abs(rig.footrope.end(side)) + rng.randint(6, 36) * INCH for side in SIDES]
    return replace(rig, sweep=Sweep(*halves, rng.choice(chains())))


def _weighted_dropper(rig, requirement, rng, level):
    return replace(rig, droppers=_swap(rig.droppers, rng.randrange(len(rig.droppers)), bare=False))


def _short_dropper(rig, requirement, rng, level):
    index = rng.randrange(len(rig.droppers))
    short = _past(rng, requirement, level)
    return replace(rig, droppers=_swap(rig.droppers, index, length=short))


def _nearest(rig, position):
    return min(range(len(rig.droppers)), key=lambda i: abs(rig.droppers[i].position - position))


def _without(rig, index):
    return replace(rig, droppers=rig.droppers[:index] + rig.droppers[index + 1 :])


def _move(rig, index, step):
    each = rig.droppers[index]
    changes = {"position": each.position + step}
    if each.sweep_position is not None:
        changes["sweep_position"] = each.sweep_position + step
    return replace(rig, droppers=_swap(rig.droppers, index, **changes))


def _off_the_center(rig, requirement, rng, level):
    index = _nearest(rig, 0.0)
    if level == EASIEST and rng.random() < 0.5:
        return _without(rig, index)
    return _move(rig, index, rng.choice([-1, 1]) * _past(rng, requirement, level))


def _off_the_corner(rig, requirement, rng, level):
    corner = rig.footrope.corner(rng.choice(SIDES))
    index = _nearest(rig, corner)
    if level == EASIEST and rng.random() < 0.5:
        return _without(rig, index)
    return _move(rig, index, rng.choice([-1, 1]) * _past(rng, requirement, level))


def _wide_gap(rig, requirement, rng, level):
    """Take a wing dropper away, which leaves a wide gap, or shift it to leave one too wide."""
    half = rig.footrope.bosom / 2
    on_wings = [i for i, each in enumerate(rig.droppers) if abs(each.position) > half + ROUNDING]
    if not on_wings:
        raise CannotSpoil
    index = rng.choice(on_wings)
    here = rig.droppers[index].position
    side = PORT if here < 0 else STARBOARD
    outer = index in (0, len(rig.droppers) - 1)
    if level == EASIEST and rng.random() < 0.5:
        return _without(rig, index)
    end, inward = rig.footrope.end(side), 1 if here < 0 else -1
    before = rig.droppers[index + inward].position
    if outer and rng.random() < 0.5:
        # Moved in, it leaves too much at the wing end.
        left = requirement.measure.scale.reading(
            rng, requirement, broken=True, level=level, edge_breaks=True
        )
        place = end + inward * left
    else:
        place = before - inward * _past(rng, requirement, level)
    after = end if outer else rig.droppers[index - inward].position
    if not abs(before) + ROUNDING < abs(place) <= abs(after):
        raise CannotSpoil  # it would pass another dropper, or hang on no part of the rope
    return _move(rig, index, place - here)


def _sweep_change(**make):
    def spoil(rig, requirement, rng, level):
        return replace(rig, sweep=replace(rig.sweep, **make))

    return spoil


def _sweep_thick(rig, requirement, rng, level):
    thick = _past(rng, requirement, level)
    return replace(rig, sweep=replace(rig.sweep, diameter=thick))


def _leaning(rig, requirement, rng, level):
    index = rng.randrange(1, len(rig.droppers) - 1)
    each = rig.droppers[index]
    lean = rng.choice([-1, 1]) * _past(rng, requirement, level)
    return replace(rig, droppers=_swap(rig.droppers, index, sweep_position=each.position + lean))


def _small_mesh(rig, requirement, rng, level):
    return replace(rig, codend=replace(rig.codend, mesh=_past(rng, requirement, level)))


def _short_mesh(rig, requirement, rng, level):
    counted = round(_past(rng, requirement, level))
    return replace(rig, codend=replace(rig.codend, counted=counted))


def _codend_change(**make):
    def spoil(rig, requirement, rng, level):
        return replace(rig, codend=replace(rig.codend, **make))

    return spoil


def _open_bars(rig, requirement, rng, level):
    return replace(rig, grate=replace(rig.grate, bar_gap=_past(rng, requirement, level)))


def _narrow_outlet(rig, requirement, rng, level):
    outlet = rig.grate.width + _past(rng, requirement, level)
    return replace(rig, grate=replace(rig.grate, outlet_width=outlet))


def _grate_change(**make):
    def spoil(rig, requirement, rng, level):
        return replace(rig, grate=replace(rig.grate, **make))

    return spoil


_SPOILERS = {
    "float_diameter": _small_float,
    "float_spacing": _float_gap,
    "ground_gear_bare": _cookies_on_cable,
    "top_leg_wire": _thick("legs", "top_diameter"),
    "bottom_leg_wire": _thick("legs", "bottom_diameter"),
    "ground_cable_wire": _thick("ground_cables", "diameter"),
    "legs_equal": _unequal_legs,
    "legs_not_extended": _extension,
    "door_to_wing_end": _long_cable,
    "off_bottom": _on_bottom,
    "no_sweep": _sweep_left_on,
    "dropper_bare": _weighted_dropper,
    "dropper_stock": _thick("droppers", "diameter"),
    "dropper_length": _short_dropper,
    "dropper_at_centre": _off_the_center,
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
_REHUNG = {"footrope_longer": _other_headrope, "footrope_excess": _other_headrope}

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

    By how much goes by ``difficulty``, from 1 to 3, as ``spans`` has it: the higher, the nearer
    the miss. ``suits``, if given, is asked of each rig that would do, and may turn it down. Raise
    CannotSpoil if none of many tries at random does so, as when a rig has no
    wing droppers to take away.
    """
    before = judge(rig, rulebook).missed_keys
    requirement = rulebook.requirement(key)
    for _ in range(40):
        try:
            if key in _REHUNG:
                spoilt = _REHUNG[key](rig, requirement, rng, rulebook, difficulty)
            else:
                spoilt = _SPOILERS[key](rig, requirement, rng, difficulty)
        except CannotSpoil:
            continue
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
