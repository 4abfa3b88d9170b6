"""What a conversion takes from the store, and what it takes off and puts on in weight."""

from collections import Counter
from typing import NamedTuple

from .. import chain
from ..units import inches
from .planned import floats_stay, usable_floats

SHACKLES_A_PLACE = 1
"""Shackles to hang the chain or chains of one place (common practice, no source)."""


class Item(NamedTuple):
    """
    One line of the shopping list.

    ``count`` of ``what``; for chain, ``metres`` of it in all and its ``mass`` in
    kilograms. Both are None for what is bought by the piece, the mass also for chain
    that is not sold here.
    """

    key: str
    what: str
    count: int
    metres: float | None = None
    mass: float | None = None


class Weights(NamedTuple):
    """
    Chain taken off and put on, in kilograms; None where it cannot be told.

    ``off_sweep`` and ``off_droppers`` are in air; ``in_water`` turns any of them into
    what a scale would show in sea water.
    """

    off_sweep: float | None
    off_droppers: float | None
    on_droppers: float | None

    @property
    def off(self):
        """All that comes off, kilograms in air."""
        if self.off_sweep is None or self.off_droppers is None:
            return None
        return self.off_sweep + self.off_droppers

    @property
    def change(self):
        """What the net gains, kilograms in air; negative if it gets lighter."""
        if self.off is None or self.on_droppers is None:
            return None
        return self.on_droppers - self.off

    @staticmethod
    def in_water(mass):
        """Return the kilograms a scale would show in sea water for ``mass`` of chain in air."""
        return None if mass is None else mass * chain.KEPT_IN_SEA_WATER


def chain_mass(diameter, length, count=1):
    """
    Return the mass in kilograms of ``count`` chains ``length`` metres long.

    ``diameter`` is the nominal size in metres. None if either is not known or no such
    chain is sold.
    """
    if diameter is None or length is None:
        return None
    try:
        return chain.mass(chain.stock_for(diameter), length, count)
    except KeyError:
        return None


def _sum(masses):
    masses = list(masses)
    return None if None in masses else sum(masses)


def coming_off(rig, planned_places):
    """Return the present droppers that are not at a place where they can stay."""
    staying = {place.position for place in planned_places if place.stays}
    kept = {
        min(rig.droppers, key=lambda each: abs(each.position - position)) for position in staying
    }
    return tuple(each for each in rig.droppers or () if each not in kept)


def sweep_length(sweep):
    """Return the whole length of ``sweep`` in metres, or None if a half was not measured."""
    if sweep.port is None or sweep.starboard is None:
        return None
    return sweep.port + sweep.starboard


def shopping(rig, rulebook, choices, planned, places, verdict):
    """
    Return the Items to buy: chain for the droppers, shackles, floats.

    ``planned`` is the rig as it will be, ``places`` its Placements, ``verdict`` that on
    the rig as it is.
    """
    new = sum(not place.stays for place in places)
    items = []
    if new:
        metres = new * choices.count * choices.length
        items.append(
            Item(
                "chain",
                f"bare {inches(choices.chain)} chain",
                new * choices.count,
                metres,
                chain_mass(choices.chain, metres),
            )
        )
        items.append(
            Item(
                "shackles",
                f"shackles to suit {inches(choices.chain)} chain",
                new * SHACKLES_A_PLACE,
            )
        )
    if planned.floats is not None and not floats_stay(rig, verdict):
        have = Counter(each.diameter for each in usable_floats(rig, rulebook))
        want = Counter(each.diameter for each in planned.floats)
        for size, count in sorted((want - have).items()):
            items.append(Item("floats", f"floats {inches(size)} across", count))
    return tuple(items)


def weights(rig, choices, places):
    """Return the Weights of chain that come off and go on, ``places`` being the Placements."""
    off_sweep = 0.0
    if rig.sweep is not None:
        off_sweep = chain_mass(rig.sweep.diameter, sweep_length(rig.sweep))
    off_droppers = None
    if rig.droppers is not None:
        off_droppers = _sum(
            chain_mass(each.diameter, each.length, each.count) for each in coming_off(rig, places)
        )
    new = sum(not place.stays for place in places)
    on = chain_mass(choices.chain, new * choices.length, choices.count)
    return Weights(off_sweep, off_droppers, on)
