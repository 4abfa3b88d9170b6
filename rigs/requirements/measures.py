"""
What is measured on a rig for each requirement.

A measure returns readings: a sequence of values and a sequence as long of the
spots they were taken at. ``NOTHING`` says that there is nothing there to measure,
``None`` that nobody has looked; a value of None was not taken, a Between only in part.
A spot is a phrase, or the part itself, or a stretch of rope: putting it into words is
left to whoever needs the words, since a judge of many rigs mostly does not.
"""

from collections.abc import Callable
from dataclasses import dataclass
from math import inf
from operator import attrgetter
from typing import NamedTuple

from rigs.words import species
from rigs.words.gear import PORT, SIDES, SQUARE, STARBOARD
from rigs.words.units import INCH

from .by_mesh import Load

PLAY = INCH / 4
"""How far past its end a place on a rope still counts as the end itself: no tape on deck
is read finer (common practice, no source)."""


class Between(NamedTuple):
    """
    A value of which a part was not measured: the least and the most that it can be.

    A length that was not measured is anything from nothing up, unless more is known.
    """

    least: float
    most: float


@dataclass(frozen=True, slots=True)
class Measure:
    """
    How one requirement is measured.

    ``dimension`` is the kind of quantity, ``allowance`` the measuring allowance
    of the rule set that applies, ``chain`` whether the bar of a chain is gauged, which is
    named by its trade size, ``missing_fails`` whether a rig on which there
    is nothing to measure fails the rule (no dropper at the center) or cannot
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
    chain: bool = False


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
    half = rig.headrope.length / 2
    places = sorted([each.position for each in rig.floats])
    if places and (places[0] < -half or places[-1] > half):
        places = [_on_rope(place, half) for place in places if abs(place) <= half + PLAY]
    if not places:
        return [rig.headrope.length], ("whole headrope",)
    stops = [-half, *places, half]
    pairs = list(zip(stops, stops[1:], strict=False))
    return [b - a for a, b in pairs], pairs


def _on_rope(place, half):
    """Return ``place`` on a rope of two ``half`` lengths, its end if that is just passed."""
    return max(-half, min(half, place))


def _sides(parts, name, value):
    """
    Return readings of ``value`` off each of ``parts``, which are on one side or the other.

    A side on which there is none was left out: it was not measured.
    """
    if not parts:
        return None
    values = [value(each) for each in parts]
    left_out = _left_out(parts, name)
    return (values + [None] * len(left_out), parts + left_out) if left_out else (values, parts)


def _left_out(parts, name):
    """Return a phrase for each side on which there is none of ``parts``."""
    if len(parts) == 2 and parts[0].side != parts[1].side:
        return ()
    told = {each.side for each in parts}
    return tuple(f"{side} {name}" for side in SIDES if side not in told)


_LEGS, _CABLE = "legs", "ground cable"
_top_diameter = attrgetter("top_diameter")
_bottom_diameter = attrgetter("bottom_diameter")
_diameter = attrgetter("diameter")


def _ground_gear(rig):
    legs, cables = rig.legs, rig.ground_cables
    if not legs and not cables:
        return None
    parts = legs + cables
    values = [each.bare_wire for each in parts]
    left_out = _left_out(legs, _LEGS) + _left_out(cables, _CABLE)
    return (values + [None] * len(left_out), parts + left_out) if left_out else (values, parts)


def _top_legs(rig):
    return _sides(rig.legs, _LEGS, _top_diameter)


def _bottom_legs(rig):
    return _sides(rig.legs, _LEGS, _bottom_diameter)


def _cable_wires(rig):
    return _sides(rig.ground_cables, _CABLE, _diameter)


def _leg_difference(leg):
    if leg.top_length is None or leg.bottom_length is None:
        return None
    return abs(leg.top_length - leg.bottom_length)


def _leg_differences(rig):
    return _sides(rig.legs, _LEGS, _leg_difference)


def _leg_whole(leg):
    return None if leg.extended is None else not leg.extended


def _legs_whole(rig):
    return _sides(rig.legs, _LEGS, _leg_whole)


def _door_to_wing_end(rig):
    """From door to wing end by the longer leg, a side at a time, with whatever was measured."""
    values = []
    for side in SIDES:
        cable = longer = None
        whole = False
        for each in rig.ground_cables:
            if each.side == side:
                cable = each.length
        for each in rig.legs:
            if each.side == side:
                whole = each.top_length is not None and each.bottom_length is not None
                longer = max(each.top_length or 0.0, each.bottom_length or 0.0)
        if whole and cable is not None:
            values.append(cable + longer)
        else:
            known = (cable or 0.0) + (longer or 0.0)
            values.append(Between(known, inf) if known else None)
    return values, ("port side", "starboard side")


def _footrope_excess(rig):
    if rig.headrope.length is None:
        return [Between(-inf, rig.footrope.length)], ("footrope",)
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


def _places(rig):
    """
    Return where droppers hang along the footrope, port to starboard.

    One beyond a wing end hangs on no part of the rope: it fills no gap.
    """
    places = sorted([each.position for each in rig.droppers])
    rope = rig.footrope
    half = rope.bosom / 2
    if places and (places[0] < -half - rope.port_wing or places[-1] > half + rope.starboard_wing):
        first, last = rope.port_end, rope.starboard_end
        places = [
            max(first, min(last, place)) for place in places if first - PLAY <= place <= last + PLAY
        ]
    return places


def _at_center(rig):
    if rig.droppers is None:
        return None
    places = _places(rig)
    if not places:
        return NOTHING
    return [min([abs(place) for place in places])], ("center",)


def _at_corners(rig):
    if rig.droppers is None:
        return None
    places = _places(rig)
    if not places:
        return NOTHING
    half = rig.footrope.bosom / 2
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
    places = _places(rig)
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
    return NOTHING if rig.sweep is None else ([rig.sweep.diameter], ("sweep",))


def _sweep_bare(rig):
    return NOTHING if rig.sweep is None else ([rig.sweep.bare], ("sweep",))


def _sweep_excess(rig):
    if rig.sweep is None:
        return NOTHING
    port, starboard = rig.sweep.port, rig.sweep.starboard
    if port is None or starboard is None:
        if port is None and starboard is None:
            return None
        known = starboard if port is None else port
        return [Between(known - rig.footrope.length, inf)], ("sweep",)
    return [port + starboard - rig.footrope.length], ("sweep",)


def _sweep_excess_sides(rig):
    if rig.sweep is None:
        return NOTHING
    values = [
        None if rig.sweep.half(side) is None else rig.sweep.half(side) - abs(rig.footrope.end(side))
        for side in SIDES
    ]
    return values, ("port side of the sweep", "starboard side of the sweep")


def _sweep_wing_excess(rig):
    """How much longer the sweep is than the footrope beyond each side's outermost dropper."""
    if rig.sweep is None:
        return NOTHING
    if rig.droppers is None:
        return None
    values = []
    for side, sign in ((PORT, -1), (STARBOARD, 1)):
        end = abs(rig.footrope.end(side))
        outer = max(
            (each for each in rig.droppers if 0 <= sign * each.position <= end + PLAY),
            key=lambda each: sign * each.position,
            default=None,
        )
        half = rig.sweep.half(side)
        if outer is None or half is None:
            values.append(None)
            continue
        rope_part = end - sign * outer.position
        if outer.sweep_position is None:
            # It meets the sweep somewhere from the middle to the end of this half.
            values.append(Between(-rope_part, half - rope_part))
        else:
            values.append(half - sign * outer.sweep_position - rope_part)
    return values, ("port wing end", "starboard wing end")


def _sweep_attachment(rig):
    if rig.sweep is None:
        return NOTHING
    if rig.droppers is None:
        return None
    values = [
        None if each.sweep_position is None else abs(each.sweep_position - each.position)
        for each in rig.droppers
    ]
    return values, rig.droppers


def _sweep_joins(rig):
    return NOTHING if rig.sweep is None else ([rig.sweep.joins_with_footrope], ("bottom leg",))


def _mesh(rig):
    return None if rig.codend is None else ([rig.codend.mesh], ("codend",))


def _mesh_count(rig):
    if rig.codend is None:
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
    return NOTHING if rig.grate is None else ([rig.grate.bar_gap], ("grate",))


def _outlet(rig):
    grate = rig.grate
    if grate is None:
        return NOTHING
    if grate.width is None or grate.outlet_width is None:
        return None
    return [grate.outlet_width - grate.width], ("outlet",)


def _grate_stiff(rig):
    return NOTHING if rig.grate is None else ([rig.grate.stiff], ("grate",))


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
    "dropper_stock": Measure(_dropper_diameters, "length", "diameter", chain=True),
    "dropper_length": Measure(_dropper_lengths, "length", "length"),
    "dropper_at_centre": Measure(_at_center, "length", "length", True, zero=APART),
    "dropper_at_corners": Measure(_at_corners, "length", "length", True, zero=APART),
    "dropper_spacing": Measure(_wing_gaps, "length", "length", True),
    "sweep_stock": Measure(_sweep_diameter, "length", "diameter", chain=True),
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
