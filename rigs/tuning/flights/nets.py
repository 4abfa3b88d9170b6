"""
Invented nets, sound and ailing, that the table of flights is made of.

None of them is a real net. Sizes are said in the units of the deck and made into metres here;
wings are whole intervals, so that a dropper hangs, and shine is read, at each place of a flight.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import ceil
from typing import NamedTuple

from rigs.words.gear import (
    PORT,
    SIDES,
    STARBOARD,
    Dropper,
    Float,
    Footrope,
    GroundCable,
    Headrope,
    Leg,
    Rig,
)
from rigs.words.say import gettext_lazy
from rigs.words.units import FATHOM, FOOT, INCH, KNOT

LOW, HIGH = gettext_lazy("flies too low"), gettext_lazy("flies too high")
LOPSIDED = gettext_lazy("flies lower on one side")

_APART = 8 * FOOT  # from dropper to dropper along a wing
_WIDEST = 3.75 * FOOT  # between the floats of the half that has the fewer
_FLOAT, _LEG_WIRE, _CABLE_WIRE = 8 * INCH, INCH / 2, 5 / 8 * INCH


@dataclass(frozen=True)
class Net:
    """
    An invented net: ropes in feet, dropper and chain in inches, legs and cables in fathoms.

    ``wing`` is how many intervals a wing has. ``speed`` in knots is how it is towed; ``low`` and
    ``high`` are inches at the footrope's center when it ails so, ``level`` when it is lopsided.
    Then, on the side ``off``, a top leg is longer by the inches ``leg_off`` (below nothing: a
    bottom leg); or the floats are bunched there, if that is None.
    """

    key: str
    headrope: float
    bosom: float
    wing: int
    floats: int
    dropper: float
    chain: float
    legs: float
    cables: float
    speed: float
    low: float
    high: float
    level: float
    leg_off: float | None
    off: str

    @property
    def sound(self) -> Rig:
        """The net with nothing wrong on it."""
        wing = self.wing * _APART
        rope = Footrope(self.bosom * FOOT, wing, wing)
        out = [rope.starboard_corner + n * _APART for n in range(self.wing + 1)]
        hung = sorted([*(-place for place in out), 0.0, *out])
        length, legs = self.headrope * FOOT, self.legs * FATHOM
        return Rig(
            Headrope(length),
            rope,
            droppers=tuple(Dropper(at, self.dropper * INCH, self.chain * INCH) for at in hung),
            floats=evenly(self.floats, length),
            legs=tuple(Leg(side, legs, legs, _LEG_WIRE, _LEG_WIRE) for side in SIDES),
            ground_cables=tuple(
                GroundCable(side, self.cables * FATHOM, _CABLE_WIRE) for side in SIDES
            ),
        )

    @property
    def uneven(self) -> Rig:
        """The net with a leg that is longer on one side, or with its floats bunched there."""
        rig = self.sound
        if self.leg_off is None:
            return rig.with_(floats=self._bunched())
        top, bottom = max(self.leg_off, 0.0), max(-self.leg_off, 0.0)
        length = self.legs * FATHOM
        return rig.with_(
            legs=tuple(
                replace(leg, top_length=length + top * INCH, bottom_length=length + bottom * INCH)
                if leg.side == self.off
                else leg
                for leg in rig.legs
            )
        )

    def _bunched(self) -> tuple[Float, ...]:
        """Return the floats as far apart on the one half as is usual, and the rest on the other."""
        half = self.headrope * FOOT / 2
        few = ceil(half / _WIDEST)
        many = self.floats - 1 - few
        sign = -1 if self.off == PORT else 1
        places = [-sign * half * i / few for i in range(1, few + 1)]
        places += [0.0, *(sign * half * i / many for i in range(1, many + 1))]
        return tuple(Float(at, _FLOAT) for at in sorted(places))


def evenly(count: int, length: float) -> tuple[Float, ...]:
    """Return ``count`` floats spaced evenly along a headrope of ``length`` metres."""
    return tuple(Float(length * (i / (count - 1) - 0.5), _FLOAT) for i in range(count))


class Ailing(NamedTuple):
    """
    A net with what ails it, towed: ``rig`` as it is, ``ails`` one of LOW, HIGH and LOPSIDED.

    ``center`` is the footrope's height at its center in metres, ``speed`` in m/s.
    """

    net: Net
    ails: str
    rig: Rig
    center: float
    speed: float

    @property
    def key(self) -> str:
        """Its name in the table."""
        return f"{self.net.key} {_NAMES[self.ails]}"


_NAMES = {LOW: "low", HIGH: "high", LOPSIDED: "lopsided"}

# fmt: off
NETS = (
    Net("foot-50", 44, 18, 2, 14, 42, 3 / 8, 10, 15, 2.2, 4, 26, 19, 8, PORT),
    Net("foot-54", 45, 22, 2, 16, 48, 5 / 16, 8, 12, 2.4, 6, 28, 18, None, STARBOARD),
    Net("foot-60", 50, 12, 3, 20, 42, 3 / 8, 12, 18, 2.2, 7.5, 26.5, 17, None, PORT),
    Net("foot-64", 52, 16, 3, 15, 54, 3 / 8, 10, 20, 2.6, 10, 32, 21, 12, STARBOARD),
    Net("foot-70", 58, 22, 3, 24, 48, 5 / 16, 9, 14, 2.2, 6.5, 28.5, 17, None, PORT),
    Net("foot-76", 66, 12, 4, 26, 54, 5 / 16, 12, 15, 2.6, 8.5, 29, 18, None, PORT),
    Net("foot-82", 68, 18, 4, 21, 48, 3 / 8, 10, 16, 2.4, 9, 27, 20, 10, STARBOARD),
    Net("foot-90", 75, 26, 4, 30, 60, 5 / 16, 12, 18, 2.8, 9.5, 31, 19, None, STARBOARD),
)
# fmt: on


def ailing() -> Iterator[Ailing]:
    """Yield each net in each state."""
    for net in NETS:
        yield from states(net)


def states(net: Net) -> tuple[Ailing, ...]:
    """Return ``net`` as it ails: too low, too high and lopsided."""
    speed = net.speed * KNOT
    made: tuple[tuple[str, Rig, float], ...] = (
        (LOW, net.sound, net.low),
        (HIGH, net.sound, net.high),
        (LOPSIDED, net.uneven, net.level),
    )
    return tuple(Ailing(net, ails, rig, up * INCH, speed) for ails, rig, up in made)
