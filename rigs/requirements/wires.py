"""Legs and ground cables: the wires between the doors and the net."""

from collections.abc import Callable
from dataclasses import replace
from math import inf
from operator import attrgetter
from random import Random
from typing import Any, ClassVar, TypeVar

from rigs.words import sizes
from rigs.words.gear import SIDES, GroundCable, Leg, Rig
from rigs.words.say import gettext as _
from rigs.words.say import gettext_lazy
from rigs.words.sizes import THINNEST_WIRE
from rigs.words.units import FATHOM, FOOT, INCH, ROUNDING, fathoms_and_feet, inches

from .base import APART, Measure
from .making import Making, Told, at_random, farthest, swapped, there
from .oddity import Oddity, one_changed
from .questions import LENGTH, MOST, OnSheet, Question, Sided, all_so, each_side, sides
from .readings import Between, Readings, off_each, sides_without
from .sights import LookedAt, Sights
from .sizing import Sizing
from .spans import Steps
from .worked_out.wires import DOOR_TO_WING_END

_GAUGED = INCH / 16  # how finely wire is gauged (common practice, no source)

_Part = TypeVar("_Part", Leg, GroundCable)


def on_side(parts: tuple[_Part, ...], side: str, **changes: Any) -> tuple[_Part, ...]:
    """Return ``parts`` with ``changes`` made to that on ``side``."""
    return tuple(replace(each, **changes) if each.side == side else each for each in parts)


LEGS, CABLE = "legs", gettext_lazy("ground cable")

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
            help=_("Door to legs.") if sort == "cable" else "",
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
    "cable", gettext_lazy("Ground cable, length"), "cable", 30, _of_cable(attrgetter("length"))
)
_TOP_LENGTH = _length(
    "top_leg", gettext_lazy("Top leg, length"), "leg", 40, _of_leg(attrgetter("top_length"))
)
_BOTTOM_LENGTH = _length(
    "bottom_leg",
    gettext_lazy("Bottom leg, length"),
    "leg",
    50,
    _of_leg(attrgetter("bottom_length")),
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
            help=_("Gauge it at two places and write down both, with a comma between."),
            picks=tuple(inches(size) for size in sizes.wires()),
            several=MOST,
            of=lambda rig: value(rig, side),
            stop=f"{side}_gauge",
            place=place,
        )
    )
    return OnSheet(sides(what, (1, asked), each=_("{side} {what}, place {at} of {of}")))


class GroundGearBare(LookedAt):
    """Whether all the wire is bare."""

    key = "ground_gear_bare"
    marked_at = gettext_lazy("all wire")
    about = gettext_lazy("Legs and ground cables")
    met = Sights(
        plain=(
            gettext_lazy("{Wire} is plain wire from eye to eye. So are all the others."),
            gettext_lazy("All legs and ground cables are plain, rusty wire."),
        ),
        close=(
            gettext_lazy(
                "{Wire} is worn bright along the part that drags. All of it is plain wire."
            ),
            gettext_lazy("{Wire} is newer than its mate and freshly greased. Both are plain wire."),
            gettext_lazy(
                "A basket of rubber cookies is on deck. {Wire} is plain wire, as is the rest."
            ),
            gettext_lazy("{Wire} has an eye at each end, spliced around a steel thimble."),
        ),
    )
    broken = Sights(
        plain=(
            gettext_lazy("Rubber cookies are strung along {wire} from eye to eye."),
            gettext_lazy("Hose covers {wire} from eye to eye."),
        ),
        close=(
            gettext_lazy("One rubber cookie is threaded on {wire}. The rest of it is plain wire."),
            gettext_lazy("A foot of hose covers {wire} where it chafed. The rest is plain wire."),
            gettext_lazy("A few turns of old rope are wound around {wire}, near the eye."),
            gettext_lazy("{Wire} is newer than its mate and has a short wrapping of twine."),
        ),
    )

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
                        _("Is all the wire bare, legs and ground cable?"),
                        of=lambda rig: _bare(rig, side),
                        stop=f"{side}_wire",
                        place=10,
                    )
                ),
            ),
        )
    )

    def breach(self, rig: Rig, side: str, wire: str) -> Rig:
        if wire.endswith("cable"):
            return rig.with_(ground_cables=on_side(rig.ground_cables, side, bare_wire=False))
        return rig.with_(legs=on_side(rig.legs, side, bare_wire=False))

    def spoil(self, making: Making) -> Rig:
        return at_random(making, "ground_cables", bare_wire=False)


class WireThickness(Measure, shared=True):
    """How thick one of the wires is."""

    dimension = "length"
    allowance = "diameter"
    scale = Steps(INCH / 16, 2, THINNEST_WIRE)


class LegWire(WireThickness, shared=True):
    """How thick one wire of the legs is."""

    about = gettext_lazy("Leg wire")

    field: ClassVar[str]
    """The thickness of it on a Leg."""

    other: ClassVar[str]
    """The key of the other wire's thickness."""

    def put(self, making: Making) -> Rig:
        return farthest(making, "legs", self.field)

    def near(self, making: Making) -> Told:
        """The wire of all four legs, since a wire that will do below is too thick above."""
        other_limit, at_top = making.limit_of(self.other), self.field == TopLegWire.field
        worst = making.reading()
        sizes = making.mixed(worst, max(THINNEST_WIRE, *making.beside(worst, 1)))
        legs, lines = [], []
        for leg, size in zip(making.rig.legs, sizes, strict=True):
            other = max(THINNEST_WIRE, other_limit - making.rng.randint(0, 3) * _GAUGED)
            top, bottom = (size, other) if at_top else (other, size)
            legs.append(replace(leg, top_diameter=top, bottom_diameter=bottom))
            lines.append(
                _("{side}: top leg {inches} wire, bottom leg {inches2}.").format(
                    side=leg.side.capitalize(), inches=inches(top), inches2=inches(bottom)
                )
            )
        return making.rig.with_(legs=tuple(legs)), tuple(lines)


class TopLegWire(LegWire):
    """How thick the top legs are."""

    key = "top_leg_wire"
    marked_at = gettext_lazy("top leg")
    sizes_of = gettext_lazy("Wire for the top legs")
    on_drawing = gettext_lazy("Measure each top leg across.")
    field = "top_diameter"
    other = "bottom_leg_wire"
    turn = 82

    def read(self, rig: Rig) -> Readings | None:
        return off_each(rig.legs, LEGS, _top_diameter)

    sheet = _gauged(
        gettext_lazy("top leg"),
        "top_wire",
        gettext_lazy("Top leg, thickness"),
        20,
        _of_leg(_top_diameter),
    )


def _thinner(rig: Rig, rng: Random) -> Rig:
    """Use a thinner bottom leg on one side than on the other."""

    def thinner(leg: Leg) -> dict[str, float]:
        wire = there(leg.bottom_diameter)
        return {"bottom_diameter": max(size for size in sizes.wires() if size < wire)}

    return rig.with_(legs=one_changed(rig.legs, rng, thinner))


class BottomLegWire(LegWire):
    """How thick the bottom legs are."""

    key = "bottom_leg_wire"
    marked_at = gettext_lazy("bottom leg")
    sizes_of = gettext_lazy("Wire for the bottom legs")
    on_drawing = gettext_lazy("Measure each bottom leg across.")
    field = "bottom_diameter"
    other = "top_leg_wire"
    turn = 83
    oddities = (
        Oddity(
            10,
            gettext_lazy("thin wire"),
            _thinner,
            gettext_lazy(
                "One bottom leg is of thinner wire than the other. They do not have to match."
            ),
        ),
    )

    def read(self, rig: Rig) -> Readings | None:
        return off_each(rig.legs, LEGS, _bottom_diameter)

    sheet = _gauged(
        gettext_lazy("bottom leg"),
        "bottom_wire",
        gettext_lazy("Bottom leg, thickness"),
        30,
        _of_leg(_bottom_diameter),
    )


class GroundCableWire(WireThickness):
    """How thick the ground cables are."""

    key = "ground_cable_wire"
    marked_at = gettext_lazy("ground cable")
    about = gettext_lazy("Ground cable wire")
    sizes_of = gettext_lazy("Wire for the ground cables")
    on_drawing = gettext_lazy("Measure each ground cable across.")
    turn = 84

    def read(self, rig: Rig) -> Readings | None:
        return off_each(rig.ground_cables, CABLE, _diameter)

    sheet = _gauged(
        gettext_lazy("ground cable"),
        "cable_wire",
        gettext_lazy("Ground cable, thickness"),
        10,
        _of_cable(_diameter),
    )

    def put(self, making: Making) -> Rig:
        return farthest(making, "ground_cables", "diameter")

    def near(self, making: Making) -> Told:
        """The wire of both ground cables, and of a leg, which goes by another rule."""
        worst = making.reading()
        sizes = making.mixed(worst, max(THINNEST_WIRE, *making.beside(worst, 1)))
        legs = {leg.side: leg for leg in making.rig.legs}
        cables, lines = [], []
        for cable, size in zip(making.rig.ground_cables, sizes, strict=True):
            bottom = there(legs[cable.side].bottom_diameter)
            cables.append(replace(cable, diameter=size))
            lines.append(
                _("{side}: ground cable {inches} wire, bottom leg {inches2}.").format(
                    side=cable.side.capitalize(), inches=inches(size), inches2=inches(bottom)
                )
            )
        return making.rig.with_(ground_cables=tuple(cables)), tuple(lines)


def _difference(leg: Leg) -> float | None:
    if leg.top_length is None or leg.bottom_length is None:
        return None
    return abs(leg.top_length - leg.bottom_length)


def _shorter_side(rig: Rig, rng: Random) -> Rig:
    """Make both legs of one side shorter than those of the other."""
    less = rng.randint(1, 3) * FATHOM

    def shorter(leg: Leg) -> dict[str, float]:
        top, bottom = there(leg.top_length), there(leg.bottom_length)
        return {"top_length": top - less, "bottom_length": bottom - less}

    return rig.with_(legs=one_changed(rig.legs, rng, shorter))


class LegsEqual(Measure):
    """By how much the top and the bottom leg of a side differ."""

    key = "legs_equal"
    marked_at = gettext_lazy("wing end")
    about = gettext_lazy("Lengths of the legs")
    on_drawing = gettext_lazy("Measure between the ends of the two legs of one side.")
    dimension = "length"
    allowance = "length"
    zero = APART
    scale = Steps(INCH, 4)
    turn = 80
    oddities = (
        Oddity(
            9,
            gettext_lazy("short legs"),
            _shorter_side,
            gettext_lazy(
                "The two sides have legs of different lengths. Each side is compared only with "
                "itself."
            ),
        ),
    )

    def read(self, rig: Rig) -> Readings | None:
        return off_each(rig.legs, LEGS, _difference)

    sheet = OnSheet(sides("legs", (1, _TOP_LENGTH), (-1, _BOTTOM_LENGTH), size=True))

    def spoil(self, making: Making) -> Rig:
        """Shorten the bottom leg of a side."""
        legs = making.rig.legs
        index = making.rng.randrange(len(legs))
        shorter = there(legs[index].bottom_length) - making.reading()
        return making.rig.with_(legs=swapped(legs, index, bottom_length=shorter))

    def put(self, making: Making) -> Rig:
        """Shorten one leg of a side, or both legs alike."""
        legs = making.rig.legs
        index, less = making.rng.randrange(len(legs)), making.apart()
        names = ["top_length", "bottom_length"]
        if making.broken:
            names = [making.rng.choice(names)]
        changes = {name: getattr(legs[index], name) - less for name in names}
        return making.rig.with_(legs=swapped(legs, index, **changes))

    def near(self, making: Making) -> Told:
        """Two lengths, each had by two of the four legs: which two is what it turns on."""
        rng = making.rng
        longer = there(making.rig.legs[0].top_length) - rng.randint(0, 11) * INCH
        shorter = longer - making.limit - making.apart()
        if making.broken:
            tops = making.mixed(longer, shorter) if rng.random() < 0.5 else [longer] * 2
            pairs = [(top, longer if top < longer else shorter) for top in tops]
            if tops[0] == tops[1] and rng.random() < 0.5:
                pairs = [(bottom, top) for top, bottom in pairs]
        else:
            pairs = making.mixed((longer, longer), (shorter, shorter))
        legs, lines = [], []
        for leg, (top, bottom) in zip(making.rig.legs, pairs, strict=True):
            legs.append(replace(leg, top_length=top, bottom_length=bottom))
            lines.append(
                _("{side}: top leg {fathoms_and_feet}, bottom leg {fathoms_and_feet2}.").format(
                    side=leg.side.capitalize(),
                    fathoms_and_feet=fathoms_and_feet(top),
                    fathoms_and_feet2=fathoms_and_feet(bottom),
                )
            )
        return making.rig.with_(legs=tuple(legs)), tuple(lines)


def _whole(leg: Leg) -> bool | None:
    return None if leg.extended is None else not leg.extended


def _extended(rig: Rig, side: str) -> bool | None:
    leg = _leg(rig, side)
    return None if leg is None else leg.extended


class LegsNotExtended(LookedAt):
    """Whether no leg has a piece added to it."""

    key = "legs_not_extended"
    marked_at = "legs"
    about = gettext_lazy("Make of the legs")
    met = Sights(
        plain=(
            gettext_lazy("Each leg is one wire with an eye at both ends."),
            gettext_lazy("Each leg runs in one piece from the ground cable to the wing end."),
        ),
        close=(
            gettext_lazy(
                "The {side} legs are new and longer than the old ones were. Each is one wire."
            ),
            gettext_lazy("One shackle joins the {side} top leg to the wing end."),
            gettext_lazy("The {side} bottom leg was cut shorter and has a new eye spliced in."),
            gettext_lazy("A short wire with two eyes is coiled on deck. Each leg is one wire."),
        ),
    )
    broken = Sights(
        plain=(
            gettext_lazy(
                "A fathom of wire is shackled in between the {side} top leg and the wing end."
            ),
            gettext_lazy("The {side} bottom leg is two wires, shackled end to end."),
        ),
        close=(
            gettext_lazy(
                "The {side} legs each have a foot of wire shackled in, so both are alike."
            ),
            gettext_lazy("A short wire and two shackles join the {side} top leg to the wing end."),
            gettext_lazy(
                "The {side} bottom leg was cut too short and has a piece of wire shackled in."
            ),
            gettext_lazy(
                "Both {side} legs have a short piece of chain shackled in at the wing end."
            ),
        ),
    )

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
                        _("Is there a piece added to a leg?"),
                        of=lambda rig: _extended(rig, side),
                        stop=f"{side}_wire",
                        place=20,
                    )
                ),
            ),
            denied=True,
        )
    )

    def breach(self, rig: Rig, side: str, wire: str) -> Rig:
        return rig.with_(legs=on_side(rig.legs, side, extended=True))

    def spoil(self, making: Making) -> Rig:
        return at_random(making, "legs", extended=True)


def _shorter_cable(rig: Rig, rng: Random) -> Rig:
    """Make one ground cable shorter than the other."""
    less = rng.randint(1, 6) * FATHOM

    def shorter(cable: GroundCable) -> dict[str, float]:
        return {"length": there(cable.length) - less}

    return rig.with_(ground_cables=one_changed(rig.ground_cables, rng, shorter))


class DoorToWingEnd(Measure):
    """How far it is from door to wing end by the longer leg."""

    key = "door_to_wing_end"
    marked_at = gettext_lazy("whole length")
    about = gettext_lazy("From door to wing end")
    sizes_of = gettext_lazy("Ground cable and leg together, on one side")
    on_drawing = gettext_lazy("Measure from the door to the far end of the leg.")
    worked_out = DOOR_TO_WING_END
    dimension = "length"
    allowance = "length"
    scale = Steps(FOOT, 12)
    turn = 81
    oddities = (
        Oddity(
            11,
            gettext_lazy("short cable"),
            _shorter_cable,
            gettext_lazy(
                "One ground cable is shorter than the other. Only the longer side counts."
            ),
        ),
    )

    SPOTS = (gettext_lazy("port side"), gettext_lazy("starboard side"))

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
        return values, self.SPOTS

    sheet = OnSheet(
        sides(gettext_lazy("cable and top leg"), (1, _CABLE_LENGTH), (1, _TOP_LENGTH))
        + sides(gettext_lazy("cable and bottom leg"), (1, _CABLE_LENGTH), (1, _BOTTOM_LENGTH))
    )

    def spoil(self, making: Making) -> Rig:
        """Make one ground cable so long that it and the top leg come to too much."""
        cables = making.rig.ground_cables
        index = making.rng.randrange(len(cables))
        leg = _leg_beside(making.rig, cables[index])
        length = making.reading() - there(leg.top_length)
        return making.rig.with_(ground_cables=swapped(cables, index, length=length))

    def put(self, making: Making) -> Rig:
        """Make one ground cable so long that it and the longer leg come to what is wanted."""
        rig, longest = making.rig, making.rng.choice(making.rig.ground_cables)
        cables = []
        for cable in rig.ground_cables:
            leg = _leg_beside(rig, cable)
            shorter = making.inside - making.rng.randint(1, 6) * FATHOM / 2
            whole = making.reading() if cable is longest else shorter
            longer = max(there(leg.top_length), there(leg.bottom_length))
            cables.append(replace(cable, length=whole - longer))
        return rig.with_(ground_cables=tuple(cables))

    def near(self, making: Making) -> Told | None:
        """Cable and legs of both sides, to be added up."""
        worst = making.reading()
        totals = dict(zip(SIDES, making.mixed(worst, *making.beside(worst, 1)), strict=True))
        legs, cables, lines = [], [], []
        for leg, cable in zip(making.rig.legs, making.rig.ground_cables, strict=True):
            length = there(leg.top_length) - making.rng.randint(0, 11) * FOOT / 2
            rest = totals[leg.side] - length
            if rest <= ROUNDING:
                return None
            legs.append(replace(leg, top_length=length, bottom_length=length))
            cables.append(replace(cable, length=rest))
            lines.append(
                _(
                    "{side}: ground cable {fathoms_and_feet}, top and bottom leg "
                    "{fathoms_and_feet2} each."
                ).format(
                    side=leg.side.capitalize(),
                    fathoms_and_feet=fathoms_and_feet(rest),
                    fathoms_and_feet2=fathoms_and_feet(length),
                )
            )
        return making.rig.with_(legs=tuple(legs), ground_cables=tuple(cables)), tuple(lines)


def _leg_beside(rig: Rig, cable: GroundCable) -> Leg:
    """Return the legs on the side of a ground cable."""
    return next(leg for leg in rig.legs if leg.side == cable.side)


def drawn(rig: Rig, sizing: Sizing) -> Rig:
    """Return ``rig`` with legs and ground cables, alike on both sides."""
    leg = sizing.rng.randint(5, 12) * FATHOM
    cable = sizing.sound(DoorToWingEnd.key) - leg
    top = sizing.upto(TopLegWire.key, sizes.wires())
    bottom = sizing.upto(BottomLegWire.key, sizes.wires())
    wire = sizing.upto(GroundCableWire.key, sizes.wires())
    return rig.with_(
        legs=tuple(Leg(side, leg, leg, top, bottom) for side in SIDES),
        ground_cables=tuple(GroundCable(side, cable, wire) for side in SIDES),
    )


def eased(rig: Rig, sizing: Sizing) -> Rig:
    """Return ``rig`` with thinner wires, and cables that end well before they have to."""
    top = sizing.below(TopLegWire.key, sizes.wires())
    bottom = sizing.below(BottomLegWire.key, sizes.wires())
    wire = sizing.below(GroundCableWire.key, sizes.wires())
    whole = sizing.limit(DoorToWingEnd.key) - sizing.rng.randint(2, 8) * FATHOM
    cables = tuple(
        replace(cable, diameter=wire, length=whole - there(_leg_beside(rig, cable).top_length))
        for cable in rig.ground_cables
    )
    legs = tuple(replace(leg, top_diameter=top, bottom_diameter=bottom) for leg in rig.legs)
    return rig.with_(legs=legs, ground_cables=cables)
