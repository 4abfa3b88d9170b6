"""
Readings near a limit, as near on the one side as on the other.

Each is a rig that is sound in all else, and with it what a person with a tape and a gauge would
note of it: enough to judge by, and not what comes of it. How near is near stands in ``spans``.
"""

from typing import NamedTuple

from rigs.rules.judge import judge
from rigs.words.gear import Rig

from .. import sample
from ..faults import CannotSpoil
from . import droppers, nets, ropes, sights, sweeps, wires
from .making import Making

__all__ = ["ABOUT", "Near", "about", "draw", "follows", "keys", "rig", "span"]

_MEASURED = {
    "float_diameter": ropes.float_size,
    "float_spacing": ropes.float_gaps,
    "top_leg_wire": wires.leg_wire,
    "bottom_leg_wire": wires.leg_wire,
    "ground_cable_wire": wires.cable_wire,
    "legs_equal": wires.leg_lengths,
    "door_to_wing_end": wires.door_to_wing_end,
    "footrope_longer": ropes.rope_lengths,
    "footrope_excess": ropes.rope_lengths,
    "dropper_stock": droppers.chain_size,
    "dropper_length": droppers.lengths,
    "dropper_at_centre": droppers.at_center,
    "dropper_at_corners": droppers.at_corner,
    "dropper_spacing": droppers.spacing,
    "sweep_stock": sweeps.chain,
    "sweep_excess": sweeps.in_all,
    "sweep_excess_each_side": sweeps.each_side,
    "sweep_wing_excess": sweeps.past_last_dropper,
    "sweep_attachment": sweeps.attachment,
    "mesh_size": nets.mesh,
    "mesh_count_long": nets.mesh_count,
    "mesh_count_short": nets.mesh_count,
    "grate_bar_gap": nets.bar_gap,
    "grate_outlet": nets.outlet,
}

_ENDS = frozenset({"sweep_excess_each_side", "sweep_wing_excess"})
_FOLLOWS = {"sweep_excess": _ENDS, **{key: _ENDS - {key} for key in _ENDS}}

ABOUT = {
    "float_diameter": "Floats",
    "float_spacing": "Floats along the headrope",
    "ground_gear_bare": "Legs and ground cables",
    "top_leg_wire": "Leg wire",
    "bottom_leg_wire": "Leg wire",
    "ground_cable_wire": "Ground cable wire",
    "legs_equal": "Lengths of the legs",
    "legs_not_extended": "Make of the legs",
    "door_to_wing_end": "From door to wing end",
    "footrope_longer": "Headrope and footrope",
    "footrope_excess": "Headrope and footrope",
    "off_bottom": "Footrope under tow",
    "no_sweep": "Below the footrope",
    "dropper_bare": "Make of the droppers",
    "dropper_stock": "Chain of the droppers",
    "dropper_length": "Lengths of the droppers",
    "dropper_at_centre": "Droppers along the bosom",
    "dropper_at_corners": "Droppers near a corner",
    "dropper_spacing": "Droppers along a wing",
    "sweep_stock": "Chain of the sweep",
    "sweep_bare": "Make of the sweep",
    "sweep_excess": "Sweep and footrope",
    "sweep_excess_each_side": "Sweep and footrope, side by side",
    "sweep_wing_excess": "Sweep and footrope at the wing ends",
    "sweep_attachment": "Droppers from footrope to sweep",
    "sweep_joins_leg": "Where sweep and bottom leg join",
    "mesh_size": "Codend mesh",
    "mesh_count_long": "How far the mesh runs",
    "mesh_count_short": "How far the mesh runs",
    "mesh_top_clear": "Top half of the net",
    "mesh_not_blocked": "Netting of the codend",
    "grate_bar_gap": "Bars of the grate",
    "grate_outlet": "Outlet of the grate",
    "grate_stiff": "Make of the grate",
    "grate_position": "Place of the grate",
}
"""What a reading is about, in words that do not give its rule away."""

_TRIES = 200


class Near(NamedTuple):
    """A rig, and what was noted of it as ``lines``, each a sentence: the facts to judge by."""

    rig: Rig
    lines: tuple[str, ...]


def keys(rulebook):
    """Return the keys of the law's gear requirements that a reading can break or keep."""
    return tuple(
        r.key
        for r in rulebook.requirements
        if r.binds and (r.key in _MEASURED or r.key in sights.SIGHTS)
    )


def about(requirement):
    """Return what a reading of ``requirement`` is about, without its rule."""
    return ABOUT.get(requirement.key, requirement.title)


def follows(key):
    """
    Return the keys of the rules that can be broken along with ``key``, since sizes hang together.

    A sweep that is short in all is short on a side too, and at that wing end.
    """
    return _FOLLOWS.get(key, frozenset())


def span(requirement, level):
    """
    Return the least and the most, SI, by which a reading of ``requirement`` misses its limit.

    None for what is not measured but looked at.
    """
    scale = requirement.measure.scale
    return scale and scale.span(requirement, level)


def rig(rng, rulebook, key, broken, level):
    """Return a Rig whose reading of ``key`` lies at the ``level``'s distance from its limit."""
    return draw(rng, rulebook, key, broken, level).rig


def draw(rng, rulebook, key, broken, level):
    """
    Return a Near: a rig that breaks or keeps the requirement ``key``, and what is noted of it.

    ``rng`` is a random.Random, ``level`` from 1, far from the limit, to 3, a near miss. All
    other requirements are met, by custom too, but those that ``follows`` names. Raise
    KeyError if ``rulebook`` has no such requirement, and faults.CannotSpoil if no such rig comes
    about.
    """
    requirement = rulebook.requirement(key)
    make = _MEASURED.get(key) or sights.seen
    for _ in range(_TRIES):
        sound = sample.legal_rig(rng, rulebook, level)
        made = make(Making(rng, rulebook, requirement, broken, level, sound))
        if made is not None and _is_as_asked(made[0], requirement, broken, rulebook):
            return Near(*made)
    raise CannotSpoil(key)


def _is_as_asked(rig, requirement, broken, rulebook):
    missed = judge(rig, rulebook).missed_keys
    if not broken:
        return not missed and requirement.applies_to(rig, None)
    return requirement.key in missed and missed <= {requirement.key} | follows(requirement.key)
