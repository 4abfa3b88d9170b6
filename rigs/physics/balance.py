"""
Lift against weight: what holds a net up in the water and what pulls it down.

Every figure is the kilograms that a scale would show in sea water; lift counts up,
weight down. Only what hangs or floats is weighed here: how the stream lifts or
presses the net under tow is not in the table, and neither are netting (near enough
weightless in water), doors and ground cables, which the bottom bears.
"""

from collections import Counter
from dataclasses import dataclass
from math import pi
from typing import NamedTuple

from rigs.words.gear import SIDES, Rig
from rigs.words.say import gettext as _
from rigs.words.say import gettext_lazy
from rigs.words.units import FOOT, INCH, POUND, ROUNDING, feet_inches, inches

from . import chain

FLOAT_SIZE = 8 * INCH
FLOAT_LIFT = (2.9, 3.1)
"""Net lift in kilograms of a plastic trawl float of 8 in, least and most: FAO Fisherman's
Workbook (Prado, 1990), float tables, from memory."""

ROPE_SIZE = INCH / 2
"""Wire that headrope and footrope are assumed to be made of, since a rig does not say.
An assumption."""

_FLOAT_BASIS = gettext_lazy(
    "FAO Fisherman's Workbook (Prado, 1990), from memory: 2.9 to 3.1 kg for a float of 8 in"
)
_SCALED = gettext_lazy("; scaled by volume to this size")
_CHAIN_BASIS = gettext_lazy("link geometry; steel keeps 0.869 of its weight in sea water")
_WIRE_BASIS = gettext_lazy("wire rope makers' tables for 6 x 19 with fibre core, from memory")
_HALF_LEG = gettext_lazy("; half of each leg is assumed to hang on the net, no source")
NOT_MEASURED = gettext_lazy("not measured")

NO_CHAIN = gettext_lazy("no chain of this size is known here")


class Range(NamedTuple):
    """Kilograms in sea water: the least, the likely and the most."""

    least: float
    likely: float
    most: float

    def times(self, count: float) -> "Range":
        """Return the range of ``count`` such pieces."""
        return Range(*(count * value for value in self))


def displaced(diameter: float) -> float:
    """Return the volume in cubic metres of a ball of ``diameter`` metres: 4.39 L for 8 in."""
    return pi * diameter**3 / 6


def float_lift(diameter: float) -> Range:
    """
    Return the Range of net lift, in kilograms, of one float of ``diameter`` metres.

    Known for 8 in only (``FLOAT_LIFT``); other sizes are scaled by volume, which takes
    a float's shell to thicken as the float grows. Raise ValueError for no diameter.
    """
    if not diameter > 0:
        raise ValueError(_("A float must have a size."))
    scale = displaced(diameter) / displaced(FLOAT_SIZE)
    least, most = FLOAT_LIFT
    return Range(least * scale, (least + most) / 2 * scale, most * scale)


def wire_mass_per_metre(diameter: float) -> float:
    """
    Return the mass in kg/m, in air, of bare wire rope of ``diameter`` metres.

    1.68 lb/ft for each square inch of diameter squared: wire rope makers' tables,
    6 x 19 with fibre core, from memory.
    """
    return 1.68 * POUND / FOOT * (diameter / INCH) ** 2


@dataclass(frozen=True, slots=True)
class Entry:
    """
    One line of the table: ``part`` and how much of it, and its share of lift or weight.

    ``kilograms`` is a Range, or None where something was not measured; ``up`` says
    whether it lifts. ``basis`` says where the figure comes from.
    """

    part: str
    amount: str
    kilograms: Range | None
    up: bool
    basis: str


@dataclass(frozen=True, slots=True)
class Balance:
    """The table for one rig, with its sums in kilograms in sea water."""

    entries: tuple[Entry, ...]

    @property
    def complete(self) -> bool:
        """Whether every line could be weighed."""
        return all(entry.kilograms is not None for entry in self.entries)

    def _sum(self, up: bool) -> Range:
        known = [e.kilograms for e in self.entries if e.up is up and e.kilograms is not None]
        return Range(*(sum(each[i] for each in known) for i in range(3)))

    @property
    def lift(self) -> Range:
        return self._sum(up=True)

    @property
    def weight(self) -> Range:
        return self._sum(up=False)

    @property
    def net(self) -> Range:
        """Lift less weight: below nothing, the rig sinks by itself."""
        lift, weight = self.lift, self.weight
        return Range(
            lift.least - weight.most, lift.likely - weight.likely, lift.most - weight.least
        )

    def of(self, part: str) -> Range:
        """Return the Range of all lines called ``part``, nothing if there are none."""
        known = [e.kilograms for e in self.entries if e.part == part and e.kilograms]
        return Range(*(sum(each[i] for each in known) for i in range(3)))


def _exactly(kilograms: float) -> Range:
    return Range(kilograms, kilograms, kilograms)


def _float_entries(rig: Rig) -> list[Entry]:
    if rig.floats is None:
        return [Entry("floats", "", None, True, NOT_MEASURED)]
    entries = []
    for size, count in sorted(
        Counter(each.diameter for each in rig.floats).items(), key=lambda item: item[0] or 0
    ):
        if size is None:
            entries.append(Entry("floats", f"{count}", None, True, NOT_MEASURED))
            continue
        scaled = "" if abs(size - FLOAT_SIZE) <= ROUNDING else _SCALED
        entries.append(
            Entry(
                "floats",
                f"{count} of {inches(size)}",
                float_lift(size).times(count),
                True,
                _FLOAT_BASIS + scaled,
            )
        )
    return entries


def _chain_entry(part: str, amount: str, size: float | None, metres: float | None) -> Entry:
    if size is None or metres is None:
        return Entry(part, amount, None, False, NOT_MEASURED)
    try:
        stock = chain.stock_for(size)
    except KeyError:
        return Entry(part, amount, None, False, NO_CHAIN)
    weight = _exactly(chain.mass_in_sea_water(stock, metres))
    return Entry(part, amount, weight, False, f"{_CHAIN_BASIS}; {stock.source}")


def _dropper_entries(rig: Rig) -> list[Entry]:
    if rig.droppers is None:
        return [Entry("droppers", "", None, False, NOT_MEASURED)]
    makes = Counter((each.diameter, each.length, each.count) for each in rig.droppers)
    entries = []
    for (size, length, count), places in makes.items():
        single = "" if count == 1 else _(", {count} side by side").format(count=count)
        what = _("size or length unknown")
        metres = None
        if size is not None and length is not None:
            what = _("{inches} chain, {feet_inches} long{single}").format(
                inches=inches(size), feet_inches=feet_inches(length), single=single
            )
            metres = places * count * length
        entries.append(_chain_entry("droppers", f"{places} of {what}", size, metres))
    return entries


def _sweep_entries(rig: Rig) -> list[Entry]:
    sweep = rig.sweep
    if sweep is None:
        return []
    if sweep.port is None or sweep.starboard is None or sweep.diameter is None:
        return [Entry("sweep", "", None, False, NOT_MEASURED)]
    metres = sweep.port + sweep.starboard
    amount = _("{feet_inches} of {inches} chain").format(
        feet_inches=feet_inches(metres), inches=inches(sweep.diameter)
    )
    return [_chain_entry("sweep", amount, sweep.diameter, metres)]


def _wire_entry(part: str, size: float | None, metres: float | None, basis: str) -> Entry:
    if size is None or metres is None:
        return Entry(part, "", None, False, NOT_MEASURED)
    weight = wire_mass_per_metre(size) * metres * chain.KEPT_IN_SEA_WATER
    amount = _("{feet_inches} of {inches} wire").format(
        feet_inches=feet_inches(metres, 1), inches=inches(size)
    )
    return Entry(part, amount, _exactly(weight), False, basis)


def _rope_entries(rig: Rig, rope_size: float) -> list[Entry]:
    assumed = _("{WIRE_BASIS}; the rope is assumed to be wire of this size, no source").format(
        WIRE_BASIS=_WIRE_BASIS
    )
    return [
        _wire_entry("footrope", rope_size, rig.footrope.length, assumed),
        _wire_entry("headrope", rope_size, rig.headrope.length, assumed),
    ]


def _leg_entries(rig: Rig) -> list[Entry]:
    entries = []
    for side in SIDES:
        for leg in rig.legs:
            if leg.side != side:
                continue
            for name, length, size in (
                (_("{side} top leg").format(side=side), leg.top_length, leg.top_diameter),
                (_("{side} bottom leg").format(side=side), leg.bottom_length, leg.bottom_diameter),
            ):
                half = None if length is None else length / 2
                entries.append(_wire_entry(name, size, half, _WIRE_BASIS + _HALF_LEG))
    return entries


def balance(rig: Rig, rope_size: float = ROPE_SIZE) -> Balance:
    """
    Return the Balance of ``rig``: each part's lift or weight in sea water, with its basis.

    ``rope_size`` in metres is the wire that headrope and footrope are assumed to be.
    What was not measured stands as a line without a figure.
    """
    return Balance(
        (
            *_float_entries(rig),
            *_dropper_entries(rig),
            *_sweep_entries(rig),
            *_rope_entries(rig, rope_size),
            *_leg_entries(rig),
        )
    )
