"""What a flight needs to know of a net beyond its rig, and how well it is known."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from math import exp, radians, sin
from typing import NamedTuple

from rigs.physics.balance import FLOAT_LIFT, ROPE_SIZE, wire_mass_per_metre
from rigs.physics.tow import UNKNOWN, Bottom
from rigs.physics.tow.report import SPEED_SPREAD
from rigs.words.gear import SIDES, Rig
from rigs.words.units import FATHOM, INCH

LEG_SIZE, CABLE_SIZE = INCH / 2, 5 / 8 * INCH
LEG, CABLE = 10 * FATHOM, 15 * FATHOM
"""Wire and metres of legs and ground cables that nobody measured. Assumptions, no source."""
ANGLE = radians(14)
"""How far legs and cables stand out from the way of the tow, where the spread of the doors
is not known. From memory: 10 to 18 degrees in the handbooks."""
WINGS_APART = 0.45
"""How far apart the wing ends stand, as a share of the footrope. From memory, as above."""
PULL_UP = 10.0
"""Newtons a metre that pull a footrope up and that nothing here accounts for: with about so
much a net as practice rigs it flies at the height at which practice has it. An assumption; one
shine sets it."""


@dataclass(frozen=True, slots=True)
class Told:
    """
    What somebody told of a net beyond its rig, None for "I don't know".

    ``speed`` through the water in m/s, known to ``speed_spread``; ``bottom`` what it is towed
    over. ``door_spread`` in metres; ``float_lift`` kilograms of one 8 in float in the water;
    ``footrope_weight`` and ``leg_weight`` kilograms a metre in air.
    """

    speed: float
    speed_spread: float = SPEED_SPREAD
    bottom: Bottom = UNKNOWN
    door_spread: float | None = None
    float_lift: float | None = None
    footrope_weight: float | None = None
    leg_weight: float | None = None


@dataclass(frozen=True, slots=True)
class Guess:
    """
    One guess of all that flight needs beyond a rig; SI throughout.

    ``footrope``, ``headrope`` and ``legs`` are how many times as heavy they are as wire of
    their size; ``footrope_size`` is in metres. ``float_lift`` is kilograms of an 8 in float.
    ``leg_apart`` metres by which bottom legs are longer than they were said to be against the
    top legs. ``mesh`` (stretched) and ``twine`` in metres, ``netting`` how many times as much
    netting drags as its twines alone by their coefficients. ``body`` is the netting's length
    behind the footrope, ``wing_end`` its depth at the wing end (stretched metres, each panel),
    ``codend`` the codend's drag area, as shares of the footrope and its square. ``hanging`` is
    netting's width on the bosoms, as a share of stretched. ``pull_up`` newtons a metre of
    footrope that nothing else accounts for. ``sweep`` is how many times as long as it was said to
    be a sweep is against the footrope.
    """

    speed: float
    friction: float
    door_spread: float
    float_lift: float
    rope_size: float = ROPE_SIZE
    footrope: float = 1.0
    headrope: float = 1.0
    legs: float = 1.0
    leg_apart: float = 0.0
    mesh: float = 0.08
    twine: float = 0.0018
    netting: float = 1.0
    body: float = 0.9
    wing_end: float = 0.066
    hanging: float = 0.45
    codend: float = 0.0007
    pull_up: float = PULL_UP
    sweep: float = 1.0


class Unknown(NamedTuple):
    """
    One figure of a Guess that is not known exactly: ``name`` is its field.

    ``spread`` is one standard deviation, a share of the figure if ``share``, else in its unit.
    ``told`` is what is left of the spread once somebody told it, None if nobody can.
    """

    name: str
    spread: float
    share: bool = True

    def moved(self, guess: Guess, by: float) -> Guess:
        """Return ``guess`` with this figure ``by`` standard deviations off."""
        value = getattr(guess, self.name)
        value = value * exp(self.spread * by) if self.share else value + self.spread * by
        return replace(guess, **{self.name: value})


def unknowns(rig: Rig, told: Told) -> tuple[Unknown, ...]:
    """
    Return the Unknowns of ``rig``: what moves its flight, and by how much each may be off.

    All spreads are assumptions without a source but that of the floats (``FLOAT_LIFT``) and
    of speed and bottom, which are those of a single dropper.
    """
    measured = all(
        leg.top_length is not None and leg.bottom_length is not None for leg in rig.legs
    ) and len(rig.legs) == len(SIDES)
    least, most = FLOAT_LIFT
    return (
        Unknown("pull_up", 15.0, share=False),
        Unknown("speed", told.speed_spread / 2, share=False),
        Unknown("friction", (told.bottom.most - told.bottom.least) / 4, share=False),
        Unknown("door_spread", 0.12 if told.door_spread is None else 0.03),
        Unknown("float_lift", (most - least) / 2 / 3.0 if told.float_lift is None else 0.02),
        Unknown("footrope", 0.3 if told.footrope_weight is None else 0.05),
        Unknown("headrope", 0.3),
        Unknown("legs", 0.12 if told.leg_weight is None else 0.04),
        Unknown("leg_apart", INCH if measured else 4 * INCH, share=False),
        Unknown("mesh", 0.25),
        Unknown("twine", 0.15),
        Unknown("netting", 0.2),
        Unknown("body", 0.2),
        Unknown("wing_end", 0.25),
        Unknown("hanging", 0.1),
        Unknown("codend", 0.4),
        # How much of the drag a sweep takes off the footrope hangs on a few inches of it.
        *((Unknown("sweep", 0.04),) if rig.sweep is not None else ()),
    )


def likely(rig: Rig, told: Told) -> Guess:
    """Return the likely Guess for ``rig``, with what was ``told`` in it."""
    spread = told.door_spread
    if spread is None:
        spread = WINGS_APART * rig.footrope.length + 2 * _reach(rig) * sin(ANGLE)
    wire = wire_mass_per_metre(ROPE_SIZE)
    leg = wire_mass_per_metre(leg_size(rig))
    return Guess(
        speed=told.speed,
        friction=told.bottom.likely,
        door_spread=spread,
        float_lift=sum(FLOAT_LIFT) / 2 if told.float_lift is None else told.float_lift,
        footrope=1.0 if told.footrope_weight is None else told.footrope_weight / wire,
        legs=1.0 if told.leg_weight is None else told.leg_weight / leg,
    )


def _reach(rig: Rig) -> float:
    """Return the metres from door to wing end, the mean of both sides."""
    total = 0.0
    for side in SIDES:
        top, bottom = leg_lengths(rig, side)
        total += (top + bottom) / 2 + cable_length(rig, side)
    return total / len(SIDES)


def leg_lengths(rig: Rig, side: str) -> tuple[float, float]:
    """Return the metres of top and bottom leg on ``side``; one not known is like the other."""
    leg = next((each for each in rig.legs if each.side == side), None)
    top, bottom = (None, None) if leg is None else (leg.top_length, leg.bottom_length)
    either = top if bottom is None else bottom
    either = LEG if either is None else either
    return (either if top is None else top, either if bottom is None else bottom)


def cable_length(rig: Rig, side: str) -> float:
    """Return the metres of ground cable on ``side``, CABLE where nobody measured it."""
    cable = next((each for each in rig.ground_cables if each.side == side), None)
    return CABLE if cable is None or cable.length is None else cable.length


def leg_size(rig: Rig) -> float:
    """Return the metres of wire that legs of ``rig`` are made of, LEG_SIZE if not measured."""
    sizes = [size for leg in rig.legs for size in (leg.top_diameter, leg.bottom_diameter) if size]
    return sum(sizes) / len(sizes) if sizes else LEG_SIZE


def drawn(guess: Guess, unknown: tuple[Unknown, ...], offs: Mapping[str, float]) -> Guess:
    """Return ``guess`` with each of ``unknown`` off by ``offs``, in standard deviations."""
    for each in unknown:
        guess = each.moved(guess, offs.get(each.name, 0.0))
    return guess
