"""Legs and ground cables: the wires between the doors and the net."""

from collections.abc import Callable
from math import inf
from operator import attrgetter

from rigs.words import sizes
from rigs.words.gear import SIDES, GroundCable, Leg, Rig
from rigs.words.sizes import THINNEST_WIRE
from rigs.words.units import FOOT, INCH, inches

from .base import APART, Measure
from .questions import LENGTH, OnSheet, Question, Sided, all_so, each_side, sides
from .readings import Between, Readings, off_each, sides_without
from .spans import Steps

LEGS, CABLE = "legs", "ground cable"

_top_diameter = attrgetter("top_diameter")
_bottom_diameter = attrgetter("bottom_diameter")
_diameter = attrgetter("diameter")


def _leg(rig: Rig, side: str) -> Leg | None:
    return next((each for each in rig.legs if each.side == side), None)


def _cable(rig: Rig, side: str) -> GroundCable | None:
    return next((each for each in rig.ground_cables if each.side == side), None)


def _bare(rig: Rig, side: str) -> bool | None:
    leg, cable = _leg(rig, side), _cable(rig, side)
    return None if leg is None or cable is None else all_so((leg.bare_wire, cable.bare_wire))


def _length(
    name: str, label: str, sort: str, place: int, value: Callable[[Rig, str], float | None]
) -> Sided:
    """Return what is asked of the length of a wire, either side."""
    return each_side(
        lambda side: Question(
            f"{side}_{name}",
            label,
            LENGTH,
            "fm",
            sort,
            help="Door to legs." if sort == "cable" else "",
            of=lambda rig: value(rig, side),
            stop=f"{side}_wire",
            place=place,
        )
    )


def _of_leg(get: Callable[[Leg], float | None]) -> Callable[[Rig, str], float | None]:
    def value(rig: Rig, side: str) -> float | None:
        leg = _leg(rig, side)
        return None if leg is None else get(leg)

    return value


def _of_cable(get: Callable[[GroundCable], float | None]) -> Callable[[Rig, str], float | None]:
    def value(rig: Rig, side: str) -> float | None:
        cable = _cable(rig, side)
        return None if cable is None else get(cable)

    return value


_CABLE_LENGTH = _length(
    "cable", "Ground cable, length", "cable", 30, _of_cable(attrgetter("length"))
)
_TOP_LENGTH = _length("top_leg", "Top leg, length", "leg", 40, _of_leg(attrgetter("top_length")))
_BOTTOM_LENGTH = _length(
    "bottom_leg", "Bottom leg, length", "leg", 50, _of_leg(attrgetter("bottom_length"))
)


def _gauged(
    what: str, name: str, label: str, place: int, value: Callable[[Rig, str], float | None]
) -> OnSheet:
    """Return what is read of the thickness of a wire, ``what``, on both sides."""
    asked = each_side(
        lambda side: Question(
            f"{side}_{name}",
            label,
            LENGTH,
            "in",
            "wire",
            picks=tuple(inches(size) for size in sizes.wires()),
            of=lambda rig: value(rig, side),
            stop=f"{side}_gauge",
            place=place,
        )
    )
    return OnSheet(sides(what, (1, asked)))


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

    sheet = OnSheet(
        sides(
            "wire",
            (
                1,
                each_side(
                    lambda side: Question(
                        f"{side}_wire_bare",
                        "Is all the wire bare, legs and ground cable?",
                        of=lambda rig: _bare(rig, side),
                        stop=f"{side}_wire",
                        place=10,
                    )
                ),
            ),
        )
    )


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

    sheet = _gauged("top leg", "top_wire", "Top leg, thickness", 20, _of_leg(_top_diameter))


class BottomLegWire(WireThickness):
    """How thick the bottom legs are."""

    key = "bottom_leg_wire"

    def read(self, rig: Rig) -> Readings | None:
        return off_each(rig.legs, LEGS, _bottom_diameter)

    sheet = _gauged(
        "bottom leg", "bottom_wire", "Bottom leg, thickness", 30, _of_leg(_bottom_diameter)
    )


class GroundCableWire(WireThickness):
    """How thick the ground cables are."""

    key = "ground_cable_wire"

    def read(self, rig: Rig) -> Readings | None:
        return off_each(rig.ground_cables, CABLE, _diameter)

    sheet = _gauged(
        "ground cable", "cable_wire", "Ground cable, thickness", 10, _of_cable(_diameter)
    )


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

    sheet = OnSheet(sides("legs", (1, _TOP_LENGTH), (-1, _BOTTOM_LENGTH), size=True))


def _whole(leg: Leg) -> bool | None:
    return None if leg.extended is None else not leg.extended


def _extended(rig: Rig, side: str) -> bool | None:
    leg = _leg(rig, side)
    return None if leg is None else leg.extended


class LegsNotExtended(Measure):
    """Whether no leg has a piece added to it."""

    key = "legs_not_extended"
    dimension = "flag"

    def read(self, rig: Rig) -> Readings | None:
        return off_each(rig.legs, LEGS, _whole)

    sheet = OnSheet(
        sides(
            "legs",
            (
                1,
                each_side(
                    lambda side: Question(
                        f"{side}_extended",
                        "Is there a piece added to a leg?",
                        of=lambda rig: _extended(rig, side),
                        stop=f"{side}_wire",
                        place=20,
                    )
                ),
            ),
            denied=True,
        )
    )


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

    sheet = OnSheet(
        sides("cable and top leg", (1, _CABLE_LENGTH), (1, _TOP_LENGTH))
        + sides("cable and bottom leg", (1, _CABLE_LENGTH), (1, _BOTTOM_LENGTH))
    )
