"""Legs and ground cables: the wires between the doors and the net."""

from math import inf
from operator import attrgetter

from rigs.words.gear import SIDES, Leg, Rig
from rigs.words.sizes import THINNEST_WIRE
from rigs.words.units import FOOT, INCH

from .base import APART, Measure
from .readings import Between, Readings, off_each, sides_without
from .spans import Steps

LEGS, CABLE = "legs", "ground cable"

_top_diameter = attrgetter("top_diameter")
_bottom_diameter = attrgetter("bottom_diameter")
_diameter = attrgetter("diameter")


class GroundGearBare(Measure):
    """Whether all the wire is bare."""

    key = "ground_gear_bare"
    dimension = "flag"

    def read(self, rig: Rig) -> Readings | None:
        legs, cables = rig.legs, rig.ground_cables
        if not legs and not cables:
            return None
        parts = legs + cables
        values = [each.bare_wire for each in parts]
        left_out = sides_without(legs, LEGS) + sides_without(cables, CABLE)
        return (values + [None] * len(left_out), parts + left_out) if left_out else (values, parts)


class WireThickness(Measure, shared=True):
    """How thick one of the wires is."""

    dimension = "length"
    allowance = "diameter"
    scale = Steps(INCH / 16, 2, THINNEST_WIRE)


class TopLegWire(WireThickness):
    """How thick the top legs are."""

    key = "top_leg_wire"

    def read(self, rig: Rig) -> Readings | None:
        return off_each(rig.legs, LEGS, _top_diameter)


class BottomLegWire(WireThickness):
    """How thick the bottom legs are."""

    key = "bottom_leg_wire"

    def read(self, rig: Rig) -> Readings | None:
        return off_each(rig.legs, LEGS, _bottom_diameter)


class GroundCableWire(WireThickness):
    """How thick the ground cables are."""

    key = "ground_cable_wire"

    def read(self, rig: Rig) -> Readings | None:
        return off_each(rig.ground_cables, CABLE, _diameter)


def _difference(leg: Leg) -> float | None:
    if leg.top_length is None or leg.bottom_length is None:
        return None
    return abs(leg.top_length - leg.bottom_length)


class LegsEqual(Measure):
    """By how much the top and the bottom leg of a side differ."""

    key = "legs_equal"
    dimension = "length"
    allowance = "length"
    zero = APART
    scale = Steps(INCH, 4)

    def read(self, rig: Rig) -> Readings | None:
        return off_each(rig.legs, LEGS, _difference)


def _whole(leg: Leg) -> bool | None:
    return None if leg.extended is None else not leg.extended


class LegsNotExtended(Measure):
    """Whether no leg has a piece added to it."""

    key = "legs_not_extended"
    dimension = "flag"

    def read(self, rig: Rig) -> Readings | None:
        return off_each(rig.legs, LEGS, _whole)


class DoorToWingEnd(Measure):
    """How far it is from door to wing end by the longer leg."""

    key = "door_to_wing_end"
    dimension = "length"
    allowance = "length"
    scale = Steps(FOOT, 12)

    def read(self, rig: Rig) -> Readings | None:
        """Return it a side at a time, with whatever was measured."""
        values: list[float | Between | None] = []
        for side in SIDES:
            cable = longer = None
            whole = False
            for line in rig.ground_cables:
                if line.side == side:
                    cable = line.length
            for each in rig.legs:
                if each.side == side:
                    whole = each.top_length is not None and each.bottom_length is not None
                    longer = max(each.top_length or 0.0, each.bottom_length or 0.0)
            if whole and cable is not None and longer is not None:
                values.append(cable + longer)
            else:
                known = (cable or 0.0) + (longer or 0.0)
                values.append(Between(known, inf) if known else None)
        return values, ("port side", "starboard side")
