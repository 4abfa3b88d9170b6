"""
What a question of "Work out the limit" is made of, and the sizes that it draws.

Each draws the few parts that it is about, says them, and puts a measure that somebody answers
into them. Nothing here knows a limit: what is right is asked of the judge.
"""

from collections.abc import Callable
from dataclasses import dataclass
from random import Random
from typing import Any

from rigs.words.gear import Footrope, Headrope, Rig
from rigs.words.say import gettext as _
from rigs.words.units import FATHOM, FOOT, INCH, fathoms_and_feet, feet_inches

AT_MOST, AT_LEAST = 1, -1
FEET, FATHOMS, COUNT = "ft", "fm", "count"
BARE = Rig(Headrope(None), Footrope(0.0, 0.0, 0.0), droppers=None, floats=None)

Facts = tuple[tuple[str, str], ...]
"""What is told of a net, as (name, text)."""
Told = Any
"""A Rig as ``WorkedOut.draw`` made it: all of it that is asked about is there."""


@dataclass(frozen=True, eq=False)
class WorkedOut:
    """
    One thing that can be asked; the requirements that can set the answer have it.

    ``name`` is kept with tasks. ``order`` is its place among all that is asked, from which a seed
    draws: another in between would make other tasks of old seeds, so it needs a new version of
    the kind. ``draw(rng, book, level)`` returns a rig of just the parts it is about;
    ``facts(rig, level)`` says them; ``ask`` is the question. ``made(rig, value, book)`` returns
    the rig with the answer ``value`` put in, metres or a count. ``edge`` is AT_MOST or AT_LEAST,
    ``unit`` one of FEET, FATHOMS and COUNT, ``things`` what is counted, one and many, ``levels``
    those at which it is asked, ``far`` whether the answer is a place, which is far and not long.
    """

    name: str
    order: int
    draw: Callable[[Random, Any, int], Rig]
    facts: Callable[[Rig, int], Facts]
    ask: str | Callable[[Rig, int], str]
    made: Callable[[Rig, Any, Any], Rig]
    edge: int
    unit: str = FEET
    things: tuple[str, str] = ("", "")
    levels: tuple[int, ...] = (1, 2, 3)
    far: bool = False

    def asked(self, rig: Rig, level: int) -> str:
        """Return the question as it is put about ``rig``."""
        return self.ask if isinstance(self.ask, str) else self.ask(rig, level)

    def say(self, value: float) -> str:
        """Return the answer ``value`` in words: ``34 fm``, ``13 floats``."""
        if self.unit == COUNT:
            return f"{value:,} {self.things[value != 1]}"
        return fathoms_and_feet(value) if self.unit == FATHOMS else feet_inches(value, 4)

    @property
    def past(self) -> str:
        """What an answer past the limit is: ``too long``, ``too few``."""
        if self.unit == COUNT:
            return _("too few")
        return (
            _("too far") if self.far else _("too long") if self.edge == AT_MOST else _("too short")
        )

    @property
    def spare(self) -> str:
        """What an answer short of the limit could still be: ``longer``, ``fewer``."""
        if self.unit == COUNT:
            return "fewer"
        return _("farther out") if self.far else "longer" if self.edge == AT_MOST else "shorter"


# Sizes by level: whole, odd halves, or to the inch --------------------------------------


def draw_feet(rng: Random, low: int, high: int, level: int) -> float:
    """Return a length in metres between ``low`` and ``high`` feet, the less round the harder."""
    if level == 1:
        return rng.randint(low, high) * FOOT
    if level == 2:
        return (rng.randint(low, high - 1) + 0.5) * FOOT
    return (rng.randint(low, high - 1) * 12 + rng.randint(1, 11)) * INCH


def draw_fathoms(rng: Random, low: int, high: int, level: int) -> float:
    """Return a length in metres between ``low`` and ``high`` fathoms, as ``draw_feet`` does."""
    if level == 1:
        return rng.randint(low, high) * FATHOM
    if level == 2:
        return (rng.randint(low, high - 1) + 0.5) * FATHOM
    return (rng.randint(low, high - 1) * 6 + rng.randint(1, 5)) * FOOT


def draw_two(
    rng: Random, draw: Callable[[Random, int, int, int], float], low: int, high: int, level: int
) -> tuple[float, float]:
    """Return two lengths, the same at the lower levels."""
    one = draw(rng, low, high, level)
    other = one
    while level == 3 and other == one:
        other = draw(rng, low, high, level)
    return one, other


def draw_rope(rng: Random, level: int, wings: tuple[int, int] = (12, 44)) -> Footrope:
    """Return a footrope whose wings differ at the hardest level."""
    bosom = rng.randint(8, 14) * 2 * FOOT
    return Footrope(bosom, *draw_two(rng, draw_feet, *wings, level))


def draw_near_a_step(rng: Random, steps: tuple[int, int], step: float, level: int) -> float:
    """Return a length of about so many ``steps`` of ``step`` metres, nearer one the harder."""
    whole = rng.randint(*steps) * step
    if level == 3:
        return whole + rng.choice((-4, -3, -2, 2, 3, 4)) * INCH
    over = rng.randrange(round(step / FOOT))
    return whole + (over if level == 1 else over + 0.5) * FOOT


def parts_of(rope: Footrope) -> Facts:
    """Return what a footrope is made of, as facts."""
    if rope.port_wing == rope.starboard_wing:
        wings: Facts = ((_("Each wing"), feet_inches(rope.port_wing)),)
    else:
        wings = (
            (_("Port wing"), feet_inches(rope.port_wing)),
            (_("Starboard wing"), feet_inches(rope.starboard_wing)),
        )
    return ((_("Bosom, corner to corner"), feet_inches(rope.bosom)), *wings)
