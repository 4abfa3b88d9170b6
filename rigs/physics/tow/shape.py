"""
The shape of a dropper in a current, and the height at which it holds the footrope.

The net is towed and the water stands still or nearly so: seen from the net the
stream runs aft and the bottom moves aft under it, so the chain trails aft and the
part that lies on the bottom (the shine) is dragged along it. With no speed nothing
drags and the chain hangs straight down.
"""

from dataclasses import dataclass
from math import cos, degrees, isfinite, pi, sin

from .. import chain
from .bottoms import UNKNOWN
from .stretch import critical, stretch_of

NORMAL_DRAG = 2.4
TANGENTIAL_DRAG = 1.15
"""
Drag coefficients of studless chain across and along the stream, both for the nominal
diameter of its bar: DNV-OS-E301, drag coefficients for mooring lines, from memory.
"""

FRICTION = UNKNOWN.likely
"""
Friction of chain on the bottom where nobody said what the bottom is, as a share of its
weight in water.
"""

FASTEST = 5.0  # m/s; no bottom trawl is towed at half of it
_LONGEST = 100.0  # m
_NEGLIGIBLE = 1e-9  # touchdown tension, in weights of the free part


@dataclass(frozen=True, slots=True)
class Line:
    """A chain or line: ``weight`` in sea water in N/m, ``diameter`` of its bar in metres."""

    weight: float
    diameter: float


def line(stock):
    """Return the Line for a chain stock of ``rigs.physics.chain``."""
    return Line(chain.weight_in_sea_water(stock, 1.0), stock.wire)


@dataclass(frozen=True)
class Hang:
    """
    A dropper in equilibrium.

    ``height`` is the footrope above the chain's lowest point and ``aft`` how far the
    touchdown, or the free end, trails behind the footrope, both metres. ``top_angle``
    is the chain's angle from the vertical at the footrope, radians. ``tension`` is
    the pull of one chain at its top and ``touchdown_tension`` that where it meets the
    bottom, newtons. ``points`` runs from the footrope down to the chain's very end, as
    (metres aft of the footrope, metres above the lowest point).
    """

    line: Line
    length: float
    speed: float
    shine: float
    friction: float
    count: int
    height: float
    aft: float
    top_angle: float
    critical_angle: float
    tension: float
    touchdown_tension: float
    points: tuple[tuple[float, float], ...]

    @property
    def touches(self):
        """Whether the chain lies on the bottom, so that ``height`` is above the bottom."""
        return self.shine > 0

    @property
    def top_degrees(self):
        return degrees(self.top_angle)

    @property
    def total_tension(self):
        """The pull on the footrope of all ``count`` chains at this place, newtons."""
        return self.count * self.tension

    @property
    def load(self):
        """The downward part of ``total_tension``, newtons: what the net must hold up here."""
        return self.total_tension * cos(self.top_angle)


def _check(length, speed, shine, friction, count, coefficients):
    for what, value in (
        ("length of the dropper", length),
        ("speed", speed),
        ("shine", shine),
        ("friction", friction),
    ):
        if not isfinite(value):
            raise ValueError(f"The {what} is not a number.")
        if value < 0:
            raise ValueError(f"The {what} is below zero.")
    if length == 0:
        raise ValueError("Enter the length of the dropper, such as 42 in.")
    if length > _LONGEST:
        raise ValueError("The dropper is longer than any dropper can be.")
    if shine > length:
        raise ValueError("The shine is longer than the dropper itself.")
    if speed > FASTEST:
        raise ValueError("The speed is faster than any trawl is towed.")
    if friction > 2:
        raise ValueError("The friction is more than any bottom gives.")
    if count != int(count) or count < 1:
        raise ValueError("The number of chains side by side must be 1 or more.")
    if min(coefficients) < 0:
        raise ValueError("A drag coefficient is below zero.")


def _drag(chain_line, speed, coefficient):
    """Return drag per metre over submerged weight per metre."""
    pressure = chain.SEA_WATER * speed * speed / 2
    return pressure * coefficient * chain_line.diameter / chain_line.weight


def critical_angle(chain_line, speed, normal=NORMAL_DRAG):
    """
    Return the angle from the vertical, in radians, of a chain hanging free at ``speed`` m/s.

    There the part of its weight square to it balances the drag square to it: Fridman,
    FAO Fishing Manuals, Calculations for fishing gear designs (1986), equations 5.22
    and 5.23 (read; Cn = 1.4 there for plain line).
    """
    _check(1.0, speed, 0.0, 0.0, 1, (normal,))
    return critical(_drag(chain_line, speed, normal))


def hang(
    chain_line,
    length,
    speed,
    shine=0.0,
    friction=FRICTION,
    count=1,
    normal=NORMAL_DRAG,
    tangential=TANGENTIAL_DRAG,
    lying_drag=False,
):
    """
    Return the Hang of a dropper of ``chain_line``, ``length`` metres, towed at ``speed`` m/s.

    ``shine`` is the length in metres that lies on the bottom, ``friction`` its share of
    that part's weight. Without shine the free end carries nothing. ``count`` chains
    hang side by side without sheltering each other: each hangs as one alone would.
    ``lying_drag`` adds the stream's drag along the lying part to the tension at
    touchdown, as DNV-OS-E301 gives it for chain in line with the stream; without it that
    part is taken to be sheltered by the bottom. The truth lies between the two.

    Raise ValueError, in plain words, for sizes that no dropper can have.
    """
    _check(length, speed, shine, friction, count, (normal, tangential))
    across = _drag(chain_line, speed, normal)
    along = _drag(chain_line, speed, tangential)
    free = length - shine
    slope = critical(across)
    pull = friction * shine  # at touchdown, as metres of submerged chain
    if lying_drag:
        pull += along * shine
    if speed == 0:
        pull = 0.0  # nothing is dragged, so nothing rubs
    if free == 0:
        top, tension, height, aft = pi / 2, pull, 0.0, 0.0
        points = [(0.0, 0.0)]
    elif pull <= _NEGLIGIBLE * free:
        top = slope
        height, aft = free * cos(slope), free * sin(slope)
        tension = pull + free * (cos(slope) + along * sin(slope) ** 2)
        points = [(0.0, height), (aft, 0.0)]
    else:
        part = stretch_of(free / pull, across, along)
        top, tension = part.angle, pull * part.tension
        height, aft = pull * part.up, pull * part.aft
        points = [
            (aft - pull * float(x), pull * float(z))
            for x, z in zip(part.afts[::-1], part.ups[::-1], strict=True)
        ]
    if shine > 0 and speed > 0:
        points.append((aft + shine, 0.0))
    return Hang(
        line=chain_line,
        length=length,
        speed=speed,
        shine=shine,
        friction=friction,
        count=int(count),
        height=height,
        aft=aft,
        top_angle=top,
        critical_angle=slope,
        tension=tension * chain_line.weight,
        touchdown_tension=pull * chain_line.weight,
        points=tuple(points),
    )
