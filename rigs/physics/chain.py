"""
What chain weighs, from the geometry of its links.

All dimensions are metres, masses kilograms, weights newtons.
"""

from dataclasses import dataclass
from math import pi
from typing import NamedTuple

from rigs.words.say import gettext as _
from rigs.words.say import gettext_lazy
from rigs.words.units import INCH, ROUNDING

STEEL = 7850.0
"""Density of steel in kg/m3, the usual round figure."""

SEA_WATER = 1025.0
"""Density of sea water in kg/m3, the usual round figure."""

GRAVITY = 9.80665
"""Standard gravity in m/s2, by definition."""

KEPT_IN_SEA_WATER = 1 - SEA_WATER / STEEL
"""The share of its weight in air that steel keeps in sea water: 0.869."""

LINK_GEOMETRY = gettext_lazy("link geometry")
NOMINAL_AREA = gettext_lazy("nominal area")
RULE_OF_THUMB = gettext_lazy("rule of thumb, common practice, no source")

TOLERANCE = INCH / 64
"""How far a nominal size may be off: it is named, not measured."""


@dataclass(frozen=True, slots=True)
class Stock:
    """
    One make of round-link chain, dimensions in metres.

    ``size`` is the nominal size it is sold by, ``wire`` the actual diameter of its
    bar, ``pitch`` the inside length of a link and ``inside_width`` its inside width.
    """

    name: str
    size: float
    wire: float
    pitch: float
    inside_width: float
    grade: str
    source: str


_NACM = gettext_lazy("NACM Welded Steel Chain Specifications, Grade 30 proof coil, from memory")


def _proof_coil(name: str, size: float, wire_mm: float, pitch_in: float, width_in: float) -> Stock:
    return Stock(
        name, size * INCH, wire_mm / 1000, pitch_in * INCH, width_in * INCH, _("Grade 30"), _NACM
    )


# The inside lengths are the longest and the inside widths the narrowest that the
# specification allows; both make a link weigh the least it can.
STOCKS = {
    stock.name: stock
    for stock in (
        _proof_coil("1/4 in", 1 / 4, 7.0, 1.24, 0.38),
        _proof_coil("5/16 in", 5 / 16, 8.0, 1.29, 0.44),
        _proof_coil("3/8 in", 3 / 8, 10.0, 1.38, 0.55),
        _proof_coil("1/2 in", 1 / 2, 13.0, 1.79, 0.72),
    )
}
"""The chain sold for droppers and sweeps, by its name on deck, lightest first."""


def trade_size(bar: float) -> Stock | None:
    """
    Return the Stock whose trade size a chain gauged at ``bar`` metres has, None if none.

    Chain is named by its trade size, and its bar is thicker than that: a 5/16 in chain has
    one of 8.0 mm. This site reads a bar as the smallest size whose published bar is at
    least as thick. So a size typed as its name reads as itself, new chain reads as the
    size it was sold as, and worn chain as what is left of it: a 3/8 in chain worn down to
    8.0 mm hangs and drags as 5/16 in chain, and no gauge can tell it from one.
    """
    for stock in STOCKS.values():
        if bar <= stock.wire + ROUNDING:
            return stock
    return None


def thickest(size: float) -> float:
    """
    Return the bar in metres up to which a chain is no heavier than the trade size ``size``.

    That is the published bar of the largest size of at most ``size`` metres, or ``size``
    itself if no chain so light is sold, or its bar is thinner.
    """
    bars = [stock.wire for stock in STOCKS.values() if stock.size <= size + ROUNDING]
    return max([size, *bars])


def stock_for(diameter: float) -> Stock:
    """
    Return the Stock sold under the nominal size ``diameter`` in metres, or with that bar.

    Raise KeyError, with words for the reader, if no such chain is sold.
    """
    for stock in STOCKS.values():
        if min(abs(stock.size - diameter), abs(stock.wire - diameter)) < TOLERANCE:
            return stock
    raise KeyError(_("No chain is sold as {value:.3f} in here.").format(value=diameter / INCH))


def link_length(stock: Stock) -> float:
    """
    Return the length in metres of bar in one link, along its centerline.

    Two straight sides and two half rings.
    """
    straight = 2 * (stock.pitch - stock.inside_width)
    return straight + pi * (stock.inside_width + stock.wire)


def mass_per_metre(stock: Stock) -> float:
    """Return the mass of a metre of chain in kg/m: one link's steel for every pitch."""
    return STEEL * pi * stock.wire**2 / 4 * link_length(stock) / stock.pitch


def mass(stock: Stock, length: float, count: float = 1) -> float:
    """Return the mass in kilograms of ``count`` chains of ``length`` metres each."""
    return mass_per_metre(stock) * length * count


def mass_in_sea_water(stock: Stock, length: float, count: float = 1) -> float:
    """Return the kilograms that a scale would show with the chain hung in sea water."""
    return mass(stock, length, count) * KEPT_IN_SEA_WATER


def weight_in_air(stock: Stock, length: float, count: float = 1) -> float:
    """Return the weight in newtons of ``count`` chains of ``length`` metres in air."""
    return mass(stock, length, count) * GRAVITY


def weight_in_sea_water(stock: Stock, length: float, count: float = 1) -> float:
    """Return the weight in newtons of ``count`` chains of ``length`` metres in sea water."""
    return weight_in_air(stock, length, count) * KEPT_IN_SEA_WATER


class Ratio(NamedTuple):
    """How many times as heavy one choice of chain is as another, and on what basis."""

    value: float
    basis: str


@dataclass(frozen=True, slots=True)
class Choice:
    """So many chains of one stock hung side by side."""

    stock: Stock
    count: int = 1

    def __str__(self) -> str:
        return f"{'one' if self.count == 1 else 'two'} {self.stock.name}"

    @property
    def mass_per_metre(self) -> float:
        """Mass of a metre of all the chains together, kg/m."""
        return mass_per_metre(self.stock) * self.count

    @property
    def area(self) -> float:
        """Cross-section of all the bars by their nominal size, square metres."""
        return pi * self.stock.size**2 / 4 * self.count


ONE_HEAVY = Choice(STOCKS["3/8 in"])
TWO_LIGHT = Choice(STOCKS["5/16 in"], 2)

# The trade takes two chains of 5/16 in for one of 3/8 in: common practice, no source.
_SAID_TO_BE = {(TWO_LIGHT, ONE_HEAVY): 1.0, (ONE_HEAVY, TWO_LIGHT): 1.0}


def compare(choice: Choice, against: Choice) -> tuple[Ratio, ...]:
    """
    Return the Ratios of the weight of ``choice`` to that of ``against``.

    Both are Choices. One ratio comes from the links' geometry and one from the
    nominal areas; where the trade has a saying for the pair, that comes third.
    """
    ratios = [
        Ratio(choice.mass_per_metre / against.mass_per_metre, LINK_GEOMETRY),
        Ratio(choice.area / against.area, NOMINAL_AREA),
    ]
    if (choice, against) in _SAID_TO_BE:
        ratios.append(Ratio(_SAID_TO_BE[choice, against], RULE_OF_THUMB))
    return tuple(ratios)
