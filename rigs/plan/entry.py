"""
A rig from what its owner entered.

Entries are a flat dict of SI measures by name, as a form yields them; a name that is
missing or None was not entered. Where an owner gives one figure for both sides, both
sides get it.
"""

from collections.abc import Mapping
from typing import Any, NamedTuple

from rigs.rules.rulebook import Rulebook
from rigs.words.gear import (
    DIAMOND,
    PORT,
    SIDES,
    STARBOARD,
    Codend,
    Dropper,
    Float,
    Footrope,
    Grate,
    GroundCable,
    Headrope,
    Leg,
    Rig,
    Sweep,
)
from rigs.words.guards import MOST_PIECES
from rigs.words.say import gettext as _
from rigs.words.units import ROUNDING

from . import Choices, default_choices

NONE = "none"
SOME = "some"
UNKNOWN = "unknown"

FROM_CENTER, FROM_CORNERS = "center", "corners"
"""Where the places of droppers are counted from."""

Entries = Mapping[str, Any]
"""What was entered, by name: measures in SI, counts, answers of yes and no, lists of places."""


def _footrope(entries: Entries) -> Footrope:
    port = entries["port_wing"]
    starboard = entries.get("starboard_wing")
    return Footrope(
        entries["bosom"],
        port,
        port if starboard is None else starboard,
        off_bottom=None,
    )


def _evenly_out(rope: Footrope, spacing: float) -> list[float]:
    """Return places every ``spacing`` metres from the center out to both wing ends."""
    places = [0.0]
    for side, sign in ((PORT, -1), (STARBOARD, 1)):
        reach = abs(rope.end(side))
        count = min(int(reach / spacing + ROUNDING), MOST_PIECES // 2)
        places += [sign * spacing * i for i in range(1, count + 1)]
    return places


def dropper_places(entries: Entries) -> list[float] | None:
    """
    Return the signed places of the present droppers in metres, or None if not told.

    Places listed by the owner count before an even spacing. Both are counted from the center
    out, or from each corner out: then less than nothing is toward the center, and whether
    there is one at the center is an entry of its own.
    """
    port, starboard = entries.get("port_places"), entries.get("starboard_places")
    spacing = entries.get("dropper_spacing")
    if not (port or starboard or spacing):
        return None
    if entries.get("dropper_from") == FROM_CORNERS:
        found = _from_corners(entries)
    elif port or starboard:
        found = [*(-out for out in port or ()), *(starboard or ())]
    else:
        found = _evenly_out(_footrope(entries), float(spacing or 0))
    return sorted({0.0 if abs(place) <= ROUNDING else place for place in found})


def _from_corners(entries: Entries) -> list[float]:
    """Return the places that are told from the corners, and the center if one hangs there."""
    rope = _footrope(entries)
    lists = {PORT: entries.get("port_places"), STARBOARD: entries.get("starboard_places")}
    places = [0.0] if entries.get("dropper_center") else []
    for side, sign in ((PORT, -1), (STARBOARD, 1)):
        outs = lists[side] or ()
        if not any(lists.values()):
            spacing = entries["dropper_spacing"]
            count = min(int(rope.wing(side) / spacing + ROUNDING), MOST_PIECES // 2)
            outs = [spacing * i for i in range(count + 1)]
        places += [sign * (rope.bosom / 2 + out) for out in outs]
    return places


class Open(NamedTuple):
    """What is not drawn of a net yet, since its entry ``name`` was not answered: a question."""

    name: str
    question: str


def not_drawn(entries: Entries) -> tuple[Open, ...]:
    """Return what ``entries`` leave open that a drawing of the net would show."""
    there = entries.get("droppers") or UNKNOWN
    asked = (
        (entries.get("has_sweep") is None, "has_sweep", _("is there a sweep?")),
        (there == UNKNOWN, "droppers", _("are there droppers, and where?")),
        (
            there == SOME and dropper_places(entries) is None,
            "dropper_spacing",
            _("where do the droppers hang?"),
        ),
        (
            there == SOME
            and entries.get("dropper_from") == FROM_CORNERS
            and entries.get("dropper_center") is None,
            "dropper_center",
            _("does one hang at the center?"),
        ),
        (entries.get("float_count") is None, "float_count", _("how many floats are there?")),
    )
    return tuple(Open(name, question) for is_open, name, question in asked if is_open)


def _droppers(entries: Entries) -> tuple[Dropper, ...] | None:
    there = entries.get("droppers", UNKNOWN)
    if there == NONE:
        return ()
    places = dropper_places(entries) if there == SOME else None
    if places is None:
        return None
    return tuple(
        Dropper(
            place,
            entries.get("dropper_length"),
            entries.get("dropper_chain"),
            entries.get("dropper_count") or 1,
            entries.get("dropper_bare"),
        )
        for place in places
    )


def _sweep(entries: Entries, rope: Footrope) -> Sweep | None:
    if not entries.get("has_sweep"):
        return None
    whole = entries.get("sweep_length")
    halves: dict[str, float | None] = dict.fromkeys(SIDES)
    if whole is not None:
        # Told as one length: what it is longer than the footrope is shared evenly.
        extra = (whole - rope.length) / 2
        halves = {side: abs(rope.end(side)) + extra for side in SIDES}
    return Sweep(
        halves[PORT],
        halves[STARBOARD],
        entries.get("sweep_chain"),
        bare=None,
        joins_with_footrope=None,
    )


def _floats(entries: Entries) -> tuple[Float, ...] | None:
    count, length = entries.get("float_count"), entries["headrope"]
    if count is None:
        return None
    size = entries.get("float_size")
    if count == 1:
        return (Float(0.0, size),)
    return tuple(Float(length * (i / (count - 1) - 0.5), size) for i in range(count))


def _wires(entries: Entries) -> tuple[tuple[Leg, ...], tuple[GroundCable, ...]]:
    legs = tuple(
        Leg(
            side,
            entries.get("top_leg"),
            entries.get("bottom_leg"),
            entries.get("top_wire"),
            entries.get("bottom_wire"),
            entries.get("legs_extended"),
            entries.get("wire_bare"),
        )
        for side in SIDES
    )
    cables = tuple(
        GroundCable(side, entries.get("cable"), entries.get("cable_wire"), entries.get("wire_bare"))
        for side in SIDES
    )
    return legs, cables


def _any(entries: Entries, *names: str) -> bool:
    return any(entries.get(name) is not None for name in names)


def rig(entries: Entries) -> Rig:
    """
    Return the Rig that ``entries`` tell, as it is now.

    ``bosom``, ``port_wing`` and ``headrope`` must be there. Floats are taken to be
    spaced evenly with both ends of the headrope covered.
    """
    rope = _footrope(entries)
    sweep = _sweep(entries, rope)
    legs, cables = _wires(entries)
    codend = grate = None
    if _any(entries, "mesh", "mesh_count", "top_clear", "mesh_clear"):
        codend = Codend(
            entries.get("mesh"),
            entries.get("mesh_count"),
            entries.get("hanging") or DIAMOND,
            entries.get("top_clear"),
            entries.get("mesh_clear"),
        )
    if _any(entries, "bar_gap", "grate_width", "outlet_width", "grate_stiff", "grate_ahead"):
        grate = Grate(
            entries.get("bar_gap"),
            entries.get("grate_width"),
            entries.get("outlet_width"),
            entries.get("grate_stiff"),
            entries.get("grate_ahead"),
        )
    return Rig(
        headrope=Headrope(entries["headrope"]),
        footrope=rope,
        droppers=_droppers(entries),
        floats=_floats(entries),
        legs=legs,
        ground_cables=cables,
        sweep=sweep,
        codend=codend,
        grate=grate,
        vessel_length=entries.get("vessel_length"),
        noted=None,
    )


def choices(entries: Entries, present: Rig, rulebook: Rulebook) -> Choices:
    """
    Return the plan.Choices that ``entries`` tell for the rig ``present``.

    Whatever was left open is as ``rulebook`` and the present droppers suggest.
    """
    start = default_choices(present, rulebook)
    return Choices(
        entries.get("plan_chain") or start.chain,
        entries.get("plan_count") or start.count,
        entries.get("plan_length") or start.length,
        start.float_size,
    )
