"""
The shape of a dropper in a current, and the height at which it holds the footrope.

The net is towed and the water stands still or nearly so: seen from the net the
stream runs aft and the bottom moves aft under it, so the chain trails aft and the
part that lies on the bottom (the shine) is dragged along it. With no speed nothing
drags and the chain hangs straight down.
"""

from dataclasses import dataclass
from math import cos, degrees, isfinite, pi, sin

from rigs.words.say import gettext as _

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
class ChainLine:
    """
    A chain or line in the stream.

    ``weight`` in sea water in N/m, ``diameter`` of its bar in metres. ``count`` such
    chains hang side by side without sheltering each other: each hangs as one alone would.
    ``normal`` and ``tangential`` are its drag coefficients across and along the stream.
    ``sheltered`` says that the bottom keeps the stream off the part that lies on it; if
    not, its drag adds to the tension at touchdown, as DNV-OS-E301 gives it for chain in
    line with the stream. The truth lies between the two.
    """

    weight: float
    diameter: float
    count: int = 1
    normal: float = NORMAL_DRAG
    tangential: float = TANGENTIAL_DRAG
    sheltered: bool = True

    def drag(self, speed: float, coefficient: float) -> float:
        """Return drag per metre at ``speed`` m/s over submerged weight per metre."""
        pressure = chain.SEA_WATER * speed * speed / 2
        return pressure * coefficient * self.diameter / self.weight


def line(stock: chain.Stock, count: int = 1, sheltered: bool = True) -> ChainLine:
    """Return the ChainLine of ``count`` chains of ``stock``."""
    weight = chain.weight_in_sea_water(stock, 1.0)
    return ChainLine(weight, stock.wire, count, sheltered=sheltered)


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

    line: ChainLine
    length: float
    speed: float
    shine: float
    friction: float
    height: float
    aft: float
    top_angle: float
    critical_angle: float
    tension: float
    touchdown_tension: float
    points: tuple[tuple[float, float], ...]

    @property
    def touches(self) -> bool:
        """Whether the chain lies on the bottom, so that ``height`` is above the bottom."""
        return self.shine > 0

    @property
    def top_degrees(self) -> float:
        return degrees(self.top_angle)

    @property
    def total_tension(self) -> float:
        """The pull on the footrope of all chains side by side at this place, newtons."""
        return self.line.count * self.tension

    @property
    def load(self) -> float:
        """The downward part of ``total_tension``, newtons: what the net must hold up here."""
        return self.total_tension * cos(self.top_angle)


def _check(
    chain_line: ChainLine, length: float, speed: float, shine: float, friction: float
) -> None:
    for what, value in (
        (_("length of the dropper"), length),
        ("speed", speed),
        ("shine", shine),
        ("friction", friction),
    ):
        if not isfinite(value):
            raise ValueError(_("The {what} is not a number.").format(what=what))
        if value < 0:
            raise ValueError(_("The {what} is below zero.").format(what=what))
    if length == 0:
        raise ValueError(_("Enter the length of the dropper, such as 42 in."))
    if length > _LONGEST:
        raise ValueError(_("The dropper is longer than any dropper can be."))
    if shine > length:
        raise ValueError(_("The shine is longer than the dropper itself."))
    if speed > FASTEST:
        raise ValueError(_("The speed is faster than any trawl is towed."))
    if friction > 2:
        raise ValueError(_("The friction is more than any bottom gives."))
    if chain_line.count != int(chain_line.count) or chain_line.count < 1:
        raise ValueError(_("The number of chains side by side must be 1 or more."))
    if min(chain_line.normal, chain_line.tangential) < 0:
        raise ValueError(_("A drag coefficient is below zero."))


def critical_angle(chain_line: ChainLine, speed: float) -> float:
    """
    Return the angle from the vertical, in radians, of a chain hanging free at ``speed`` m/s.

    There the part of its weight square to it balances the drag square to it: Fridman,
    FAO Fishing Manuals, Calculations for fishing gear designs (1986), equations 5.22
    and 5.23 (read; Cn = 1.4 there for plain line).
    """
    _check(chain_line, 1.0, speed, 0.0, 0.0)
    return critical(chain_line.drag(speed, chain_line.normal))


def hang(
    chain_line: ChainLine,
    length: float,
    speed: float,
    shine: float = 0.0,
    friction: float = FRICTION,
) -> Hang:
    """
    Return the Hang of a dropper of ``chain_line``, ``length`` metres, towed at ``speed`` m/s.

    ``shine`` is the length in metres that lies on the bottom, ``friction`` its share of
    that part's weight. Without shine the free end carries nothing.

    Raise ValueError, in plain words, for sizes that no dropper can have.
    """
    _check(chain_line, length, speed, shine, friction)
    across = chain_line.drag(speed, chain_line.normal)
    along = chain_line.drag(speed, chain_line.tangential)
    free = length - shine
    slope = critical(across)
    pull = friction * shine  # at touchdown, as metres of submerged chain
    if not chain_line.sheltered:
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
        height=height,
        aft=aft,
        top_angle=top,
        critical_angle=slope,
        tension=tension * chain_line.weight,
        touchdown_tension=pull * chain_line.weight,
        points=tuple(points),
    )
