"""What a conversion takes from the store, and what it takes off and puts on in weight."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import ceil
from typing import NamedTuple

from rigs.physics import chain
from rigs.requirements import layout
from rigs.rules.judge import Verdict
from rigs.rules.rulebook import Rulebook
from rigs.words.gear import Dropper, Rig, Sweep
from rigs.words.say import gettext as _
from rigs.words.say import ngettext
from rigs.words.units import FOOT, ROUNDING, feet_inches, inches

from .limits import limit
from .planned import (
    NEW,
    STAYS,
    Choices,
    Placement,
    count_floats,
    cut_off,
    floats_stay,
    is_of_other_chain,
    is_short_by_custom,
    is_unsure,
    pitch,
)

SHACKLES_A_PLACE = 1
"""Shackles to hang the chain or chains of one place (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Item:
    """
    One line of the shopping list.

    ``count`` of ``what``; for chain, into how many pieces it is cut, ``metres`` to buy
    in all and its ``mass`` in kilograms. Both are None for what is bought by the piece,
    the mass also for chain that is not sold here.
    """

    key: str
    what: str
    count: int
    metres: float | None = None
    mass: float | None = None

    @property
    def in_short(self) -> str:
        """How much of it, for a line that names them all: ``27 ft of chain``."""
        if self.metres is not None:
            return _("{length} of chain").format(length=feet_inches(self.metres, 1))
        if self.key == "shackles":
            return ngettext("{count} shackle", "{count} shackles", self.count).format(
                count=self.count
            )
        return ngettext("{count} float", "{count} floats", self.count).format(count=self.count)


class Weights(NamedTuple):
    """
    Chain that leaves the net and that is new on it, in kilograms; None where not known.

    ``off_sweep`` and ``off_droppers`` are in air, offcuts of droppers cut down included
    and droppers that are only moved left out; ``in_water`` turns one of them into what a
    scale would show in sea water.
    """

    off_sweep: float | None
    off_droppers: float | None
    on_droppers: float | None

    @property
    def off(self) -> float | None:
        """All that comes off, kilograms in air."""
        if self.off_sweep is None or self.off_droppers is None:
            return None
        return self.off_sweep + self.off_droppers

    @property
    def change(self) -> float | None:
        """What the net gains, kilograms in air; negative if it gets lighter."""
        if self.off is None or self.on_droppers is None:
            return None
        return self.on_droppers - self.off

    @staticmethod
    def in_water(mass: float) -> float:
        """Return the kilograms a scale would show in sea water for ``mass`` of chain in air."""
        return mass * chain.KEPT_IN_SEA_WATER


def chain_mass(diameter: float | None, length: float | None, count: int = 1) -> float | None:
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


def _sum(masses: Iterable[float | None]) -> float | None:
    total = 0.0
    for mass in masses:
        if mass is None:
            return None
        total += mass
    return total


def coming_off(rig: Rig, places: Sequence[Placement]) -> tuple[Dropper, ...]:
    """Return the present droppers that must leave the place they hang in."""
    staying = [
        place.dropper for place in places if place.source == STAYS and place.dropper is not None
    ]
    return _without(rig.droppers or (), staying)


def left_over(rig: Rig, places: Sequence[Placement]) -> tuple[Dropper, ...]:
    """Return the present droppers that the plan has no use for."""
    return _without(rig.droppers or (), [place.dropper for place in places if place.dropper])


def _without(droppers: Iterable[Dropper], used: Iterable[Dropper]) -> tuple[Dropper, ...]:
    """Return ``droppers`` but for ``used``: one for one, since several may be equal."""
    left = list(droppers)
    for each in used:
        left.remove(each)
    return tuple(left)


def sweep_length(sweep: Sweep) -> float | None:
    """Return the whole length of ``sweep`` in metres, or None if a half was not measured."""
    if sweep.port is None or sweep.starboard is None:
        return None
    return sweep.port + sweep.starboard


def chain_to_buy(choices: Choices, pieces: int) -> float:
    """
    Return the metres of chain to buy for ``pieces`` droppers, in whole feet.

    Chain is cut at a link. Each piece takes its length, up to one link more for the next
    whole link past it, and one link that is lost at the cut. Links are taken to be as
    long as the specification lets them be, so shorter ones do too.
    """
    each = choices.length + 2 * pitch(choices.chain)
    return ceil(pieces * each / FOOT - ROUNDING) * FOOT


def shopping(
    rig: Rig, rulebook: Rulebook, choices: Choices, places: Sequence[Placement], verdict: Verdict
) -> tuple[Item, ...]:
    """
    Return the Items to buy: chain for the droppers, shackles, floats.

    ``places`` are the Placements, ``verdict`` that on the rig as it is. What was not
    entered is not sold: see ``to_ask``.
    """
    new = sum(place.source == NEW for place in places)
    items = []
    if new:
        pieces = new * choices.count
        metres = chain_to_buy(choices, pieces)
        items.append(
            Item(
                "chain",
                _("bare {inches} chain").format(inches=inches(choices.chain)),
                pieces,
                metres,
                chain_mass(choices.chain, metres),
            )
        )
        items.append(
            Item(
                "shackles",
                _("shackles to suit {inches} chain").format(inches=inches(choices.chain)),
                new * SHACKLES_A_PLACE,
            )
        )
    counted = count_floats(rig, rulebook)
    if counted is not None and counted.to_buy and not floats_stay(rig, verdict):
        items.append(
            Item(
                "floats",
                _("floats {inches} across").format(inches=inches(choices.float_size)),
                counted.to_buy,
            )
        )
    return tuple(items)


def to_ask(rig: Rig, rulebook: Rulebook, choices: Choices) -> tuple[str, ...]:
    """
    Return what to think of before buying, as sentences.

    It is about what the net may have already: what nobody entered, and what would do if
    the owner chose it.
    """
    asked = []
    good = _("{inches} chain, bare, and {inches2} or longer").format(
        inches=inches(choices.chain), inches2=inches(choices.length)
    )
    if rig.droppers is None:
        asked.append(
            _(
                "Droppers: not entered. Any you have of {good}, can be used. Buy that much less."
            ).format(good=good)
        )
    elif unsure := sum(is_unsure(each, choices) for each in rig.droppers):
        asked.append(
            _(
                "Droppers: {unsure} not measured in full. Any of them that is of {good}, can be "
                "used."
            ).format(unsure=unsure, good=good)
        )
    other = sum(is_of_other_chain(each, rulebook, choices) for each in rig.droppers or ())
    if other:
        asked.append(
            _(
                "Droppers: {other} of another chain than you chose would do too. To use them, "
                "choose their chain as the chain to hang."
            ).format(other=other)
        )
    short = sum(is_short_by_custom(each, rulebook, choices) for each in rig.droppers or ())
    if short:
        custom = rulebook.requirement("dropper_length").limit_text
        asked.append(
            _(
                "Droppers: {short} shorter than {custom}. Only custom asks for {custom}; no rule "
                "here does. To keep them all the same, choose their chain and length as what to "
                "hang."
            ).format(short=short, custom=custom)
        )
    counted = count_floats(rig, rulebook)
    size = limit(rulebook.requirement("float_diameter"))
    if rig.floats is None and rig.headrope.length is not None:
        needed = len(layout.float_positions(rig.headrope.length, rulebook))
        asked.append(
            _(
                "Floats: not entered. This headrope needs {needed} or more, each {size} across "
                "or more. Count yours first."
            ).format(needed=needed, size=size)
        )
    elif counted is not None and counted.unsure:
        asked.append(
            _("Floats: {unsure} not measured. Each must be {size} across or more.").format(
                unsure=counted.unsure, size=size
            )
        )
    return tuple(asked)


def _offcuts(places: Sequence[Placement], choices: Choices) -> float | None:
    """Return the kilograms cut off droppers that are longer than chosen, None if not known."""
    return _sum(
        chain_mass(each.diameter, off, each.count)
        for each in (place.dropper for place in places)
        if each is not None and (off := cut_off(each, choices))
    )


def weights(rig: Rig, choices: Choices, places: Sequence[Placement]) -> Weights:
    """Return the Weights of chain that come off and go on, ``places`` being the Placements."""
    off_sweep: float | None = 0.0
    if rig.sweep is not None:
        off_sweep = chain_mass(rig.sweep.diameter, sweep_length(rig.sweep))
    off_droppers = None
    if rig.droppers is not None:
        off_droppers = _sum(
            [
                *(
                    chain_mass(each.diameter, each.length, each.count)
                    for each in left_over(rig, places)
                ),
                _offcuts(places, choices),
            ]
        )
    new = sum(place.source == NEW for place in places)
    on = chain_mass(choices.chain, new * choices.length, choices.count)
    return Weights(off_sweep, off_droppers, on)
