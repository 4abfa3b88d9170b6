"""
What is measured on a rig for each requirement.

A measure returns readings: a sequence of values and a sequence as long of the
spots they were taken at. ``NOTHING`` says that there is nothing there to measure,
``None`` that nobody has looked; a value of None was not taken. A spot is a phrase,
or the part itself, or a stretch of rope: putting it into words is left to whoever
needs the words, since a judge of many rigs mostly does not.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import NamedTuple

from . import species
from .by_mesh import Load
from .gear import PORT, SIDES, SQUARE, STARBOARD


@dataclass(frozen=True, slots=True)
class Measure:
    """
    How one requirement is measured.

    ``dimension`` is the kind of quantity, ``allowance`` the measuring allowance
    of the rule set that applies, ``missing_fails`` whether a rig on which there
    is nothing to measure fails the rule (no dropper at the centre) or cannot
    break it (a wire that is not there), ``trip`` whether a Trip is read, not a Rig,
    ``zero`` the tests for which a limit of nothing means something (two legs of one length
    differ by at most nothing).
    """

    read: Callable
    dimension: str
    allowance: str = ""
    missing_fails: bool = False
    trip: bool = False
    zero: tuple[str, ...] = ()


class Taken(NamedTuple):
    """
    Readings taken one by one, as a check sheet has them, instead of off a whole Rig.

    ``readings`` are what measures return, by requirement's key.
    """

    readings: dict
    vessel_length: float | None = None


NOTHING = ((), ())

APART = ("at most",)
"""Of a distance: it can be none, and cannot be less."""
MORE_OR_LESS = ("at most", "at least", "more than")
"""Of how much longer one thing is than another, which may be shorter."""


def _float_diameters(rig):
    if rig.floats is None:
        return None
    return [each.diameter for each in rig.floats], rig.floats


def _float_gaps(rig):
    if rig.floats is None or rig.headrope.length is None:
        return None
    if not rig.floats:
        return [rig.headrope.length], ("whole headrope",)
    half = rig.headrope.length / 2
    stops = [-half, *sorted([each.position for each in rig.floats]), half]
    pairs = list(zip(stops, stops[1:], strict=False))
    return [b - a for a, b in pairs], pairs


def _ground_gear(rig):
    spots = rig.legs + rig.ground_cables
    return ([each.bare_wire for each in spots], spots) if spots else None


def _top_legs(rig):
    return ([leg.top_diameter for leg in rig.legs], rig.legs) if rig.legs else None


def _bottom_legs(rig):
    return ([leg.bottom_diameter for leg in rig.legs], rig.legs) if rig.legs else None


def _cable_wires(rig):
    cables = rig.ground_cables
    return ([cable.diameter for cable in cables], cables) if cables else None


def _leg_differences(rig):
    if not rig.legs:
        return None
    values = [
        None
        if leg.top_length is None or leg.bottom_length is None
        else abs(leg.top_length - leg.bottom_length)
        for leg in rig.legs
    ]
    return values, rig.legs


def _legs_whole(rig):
    if not rig.legs:
        return None
    return [None if leg.extended is None else not leg.extended for leg in rig.legs], rig.legs


def _door_to_wing_end(rig):
    values = []
    for side in SIDES:
        cable = leg = None
        for each in rig.ground_cables:
            if each.side == side:
                cable = each.length
        for each in rig.legs:
            if each.side == side and each.top_length is not None and each.bottom_length is not None:
                leg = max(each.top_length, each.bottom_length)
        values.append(None if cable is None or leg is None else cable + leg)
    return values, ("port side", "starboard side")


def _footrope_excess(rig):
    if rig.headrope.length is None:
        return None
    return [rig.footrope.length - rig.headrope.length], ("footrope",)


def _off_bottom(rig):
    return [rig.footrope.off_bottom], ("footrope",)


def _no_sweep(rig):
    return [rig.sweep is None], ("sweep",)


def _dropper_bare(rig):
    return None if rig.droppers is None else ([each.bare for each in rig.droppers], rig.droppers)


def _dropper_diameters(rig):
    if rig.droppers is None:
        return None
    return [each.diameter for each in rig.droppers], rig.droppers


def _dropper_lengths(rig):
    return None if rig.droppers is None else ([each.length for each in rig.droppers], rig.droppers)


def _at_centre(rig):
    if rig.droppers is None:
        return None
    if not rig.droppers:
        return NOTHING
    return [min([abs(each.position) for each in rig.droppers])], ("centre",)


def _at_corners(rig):
    if rig.droppers is None:
        return None
    if not rig.droppers:
        return NOTHING
    half = rig.footrope.bosom / 2
    places = [each.position for each in rig.droppers]
    return (
        [
            min([abs(place + half) for place in places]),
            min([abs(place - half) for place in places]),
        ],
        ("port corner", "starboard corner"),
    )


def _wing_gaps(rig):
    """
    Gaps along each wing from the corner outwards, the last one to the wing end.

    The spot of a wing's last gap ends in True: what is left beyond the last dropper
    must be less than a whole interval, not merely no more than one.
    """
    if rig.droppers is None:
        return None
    rope = rig.footrope
    half = rope.bosom / 2
    places = sorted([each.position for each in rig.droppers])
    values = []
    spots = []
    for side, wing, outward in (
        (PORT, rope.port_wing, [-place - half for place in reversed(places)]),
        (STARBOARD, rope.starboard_wing, [place - half for place in places]),
    ):
        last = 0.0
        for out in outward:
            if out > 0:
                values.append(out - last)
                spots.append((side, last, out, False))
                last = out
        values.append(wing - last)
        spots.append((side, last, wing, True))
    return values, spots


def _sweep_diameter(rig):
    return None if rig.sweep is None else ([rig.sweep.diameter], ("sweep",))


def _sweep_bare(rig):
    return None if rig.sweep is None else ([rig.sweep.bare], ("sweep",))


def _sweep_excess(rig):
    sweep = rig.sweep
    if sweep is None or sweep.port is None or sweep.starboard is None:
        return None
    return [sweep.port + sweep.starboard - rig.footrope.length], ("sweep",)


def _sweep_excess_sides(rig):
    if rig.sweep is None:
        return None
    values = [
        None if rig.sweep.half(side) is None else rig.sweep.half(side) - abs(rig.footrope.end(side))
        for side in SIDES
    ]
    return values, ("port side of the sweep", "starboard side of the sweep")


def _sweep_wing_excess(rig):
    if rig.sweep is None or rig.droppers is None:
        return None
    values = []
    for side, sign in ((PORT, -1), (STARBOARD, 1)):
        outer = max(
            (each for each in rig.droppers if sign * each.position > 0),
            key=lambda each: sign * each.position,
            default=None,
        )
        half = rig.sweep.half(side)
        if outer is None or outer.sweep_position is None or half is None:
            values.append(None)
            continue
        sweep_part = half - sign * outer.sweep_position
        rope_part = sign * (rig.footrope.end(side) - outer.position)
        values.append(sweep_part - rope_part)
    return values, ("port wing end", "starboard wing end")


def _sweep_attachment(rig):
    if rig.sweep is None or rig.droppers is None:
        return None
    values = [
        None if each.sweep_position is None else abs(each.sweep_position - each.position)
        for each in rig.droppers
    ]
    return values, rig.droppers


def _sweep_joins(rig):
    return None if rig.sweep is None else ([rig.sweep.joins_with_footrope], ("bottom leg",))


def _mesh(rig):
    return None if rig.codend is None else ([rig.codend.mesh], ("codend",))


def _mesh_count(rig):
    if rig.codend is None or rig.vessel_length is None:
        return None
    counted = rig.codend.counted
    if counted is not None and rig.codend.hanging == SQUARE:
        counted /= 2  # two bars of square mesh for one mesh of diamond
    return [counted], ("codend",)


def _mesh_top_clear(rig):
    return None if rig.codend is None else ([rig.codend.top_clear], ("top half of the net",))


def _mesh_not_blocked(rig):
    return None if rig.codend is None else ([rig.codend.mesh_clear], ("codend",))


def _bar_gap(rig):
    return None if rig.grate is None else ([rig.grate.bar_gap], ("grate",))


def _outlet(rig):
    grate = rig.grate
    if grate is None or grate.width is None or grate.outlet_width is None:
        return None
    return [grate.outlet_width - grate.width], ("outlet",)


def _grate_stiff(rig):
    return None if rig.grate is None else ([rig.grate.stiff], ("grate",))


def _grate_ahead(rig):
    return NOTHING if rig.grate is None else ([rig.grate.ahead_of_codend], ("grate",))


def _season(trip):
    return None if trip.day is None else ([trip.day], ("the day",))


def _area(trip):
    # Without a position it can still be that no area is open on the day.
    return None if trip.day is None else ([trip.position], (str(trip.position),))


def _closures(trip):
    return None if trip.position is None else ([trip.position], (str(trip.position),))


def _letter(trip):
    return [trip.letter_aboard], ("letter",)


def _letter_day(trip):
    if trip.day is None or trip.letter_asked is None:
        return None
    return [(trip.day - trip.letter_asked).days], ("letter",)


def _kept(trip):
    return None if trip.kept is None else (trip.kept, trip.kept)


def _weight(trip, told, group):
    """Return the weight kept of a ``group`` of hakes: none if none of it was kept."""
    if told is None and trip.kept is not None:
        return None if any(species.may_be(name, group) for name in trip.kept) else 0.0
    return told


def _load(trip, weight):
    if weight is None:
        return None
    meshes = [mesh for mesh in (trip.smallest_mesh, trip.mesh_in_use) if mesh is not None]
    return Load(weight, min(meshes, default=None), trip.smallest_mesh is not None)


def _hake(trip):
    weight = _weight(trip, trip.hake, species.SILVER_AND_OFFSHORE)
    return None if weight is None else ([weight], ("hake",))


def _hake_by_mesh(trip):
    load = _load(trip, _weight(trip, trip.hake, species.SILVER_AND_OFFSHORE))
    return None if load is None else ([load], ("hake",))


def _red_hake_by_mesh(trip):
    load = _load(trip, _weight(trip, trip.red_hake, species.RED))
    return None if load is None else ([load], ("red hake",))


def _bycatch(trip):
    if trip.regulated is None or not trip.caught:
        return None
    return [trip.regulated / trip.caught], ("catch",)


MEASURES = {
    "float_diameter": Measure(_float_diameters, "length", "diameter"),
    "float_spacing": Measure(_float_gaps, "length", "length", True),
    "ground_gear_bare": Measure(_ground_gear, "flag"),
    "top_leg_wire": Measure(_top_legs, "length", "diameter"),
    "bottom_leg_wire": Measure(_bottom_legs, "length", "diameter"),
    "ground_cable_wire": Measure(_cable_wires, "length", "diameter"),
    "legs_equal": Measure(_leg_differences, "length", "length", zero=APART),
    "legs_not_extended": Measure(_legs_whole, "flag"),
    "door_to_wing_end": Measure(_door_to_wing_end, "length", "length"),
    "footrope_longer": Measure(_footrope_excess, "length", "length", zero=MORE_OR_LESS),
    "footrope_excess": Measure(_footrope_excess, "length", "length", zero=MORE_OR_LESS),
    "off_bottom": Measure(_off_bottom, "flag"),
    "no_sweep": Measure(_no_sweep, "flag"),
    "dropper_bare": Measure(_dropper_bare, "flag"),
    "dropper_stock": Measure(_dropper_diameters, "length", "diameter"),
    "dropper_length": Measure(_dropper_lengths, "length", "length"),
    "dropper_at_centre": Measure(_at_centre, "length", "length", True, zero=APART),
    "dropper_at_corners": Measure(_at_corners, "length", "length", True, zero=APART),
    "dropper_spacing": Measure(_wing_gaps, "length", "length", True),
    "sweep_stock": Measure(_sweep_diameter, "length", "diameter"),
    "sweep_bare": Measure(_sweep_bare, "flag"),
    "sweep_excess": Measure(_sweep_excess, "length", "length", zero=MORE_OR_LESS),
    "sweep_excess_each_side": Measure(_sweep_excess_sides, "length", "length", zero=MORE_OR_LESS),
    "sweep_wing_excess": Measure(_sweep_wing_excess, "length", "length", zero=MORE_OR_LESS),
    "sweep_attachment": Measure(_sweep_attachment, "length", "length", zero=APART),
    "sweep_joins_leg": Measure(_sweep_joins, "flag"),
    "mesh_size": Measure(_mesh, "length", "length"),
    "mesh_count_long": Measure(_mesh_count, "count"),
    "mesh_count_short": Measure(_mesh_count, "count"),
    "mesh_top_clear": Measure(_mesh_top_clear, "flag"),
    "mesh_not_blocked": Measure(_mesh_not_blocked, "flag"),
    "grate_bar_gap": Measure(_bar_gap, "length", "length"),
    "grate_outlet": Measure(_outlet, "length", "length", zero=MORE_OR_LESS),
    "grate_stiff": Measure(_grate_stiff, "flag"),
    "grate_position": Measure(_grate_ahead, "flag", "", True),
    "season": Measure(_season, "days", trip=True),
    "area": Measure(_area, "area", trip=True),
    "closures": Measure(_closures, "area", trip=True),
    "letter_aboard": Measure(_letter, "flag", trip=True),
    "letter_day": Measure(_letter_day, "day count", trip=True),
    "kept_species": Measure(_kept, "names", trip=True),
    "red_hake_by_mesh": Measure(_red_hake_by_mesh, "mass by mesh", trip=True),
    "hake_by_mesh": Measure(_hake_by_mesh, "mass by mesh", trip=True),
    "hake_weight": Measure(_hake, "mass", trip=True),
    "bycatch_share": Measure(_bycatch, "share", trip=True),
}
