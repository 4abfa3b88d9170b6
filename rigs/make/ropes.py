"""
Footropes to hang droppers on, easier or harder.

What is hard about a wing is its end: whether one more dropper fits on. So a wing is a
number of whole intervals and something over or short of the last one, the less of it the
harder. Every mark on a rope falls on a whole inch, so that it can be said and typed.
"""

from random import Random

from rigs.rules.rulebook import Rulebook
from rigs.words.gear import Footrope
from rigs.words.units import FOOT, INCH

# By level, in inches: from how little to how much a wing is over or short of whole
# intervals, and how many of those it has.
_OFF = {1: (24, 44), 2: (9, 20), 3: (1, 5)}
_INTERVALS = {1: (2, 3), 2: (2, 4), 3: (2, 5)}
_BOSOM_STEP = {1: 24, 2: 12, 3: 2}
_SHORTEST_BOSOM, _LONGEST_BOSOM = 10 * FOOT, 24 * FOOT

# Short of whole intervals no dropper goes near the wing end, otherwise one does: as likely.
OVER, SHORT, WHOLE = 1, -1, 0
ENDS = (OVER, SHORT, SHORT, WHOLE)


def footrope(rng: Random, rulebook: Rulebook, difficulty: int = 1) -> Footrope:
    """
    Return the footrope of a whole rig.

    At difficulty 1 both wings are alike and take a whole number of intervals; at
    2 they are alike with something left over; at 3 they differ.
    """
    interval = rulebook.requirement("dropper_spacing").limit
    bosom = rng.randint(5, 12) * 2 * FOOT
    if difficulty == 1:
        wing = rng.randint(1, 4) * interval
        return Footrope(bosom, wing, wing)
    port = _half_feet(rng, 10, 40)
    if difficulty == 2:
        return Footrope(bosom, port, port)
    starboard = max(_half_feet(rng, 10, 40), interval)
    return Footrope(bosom, port, starboard)


def _half_feet(rng: Random, low: float, high: float) -> float:
    """Return a length in metres between ``low`` and ``high`` feet, in half feet."""
    return rng.randint(round(low * 2), round(high * 2)) * FOOT / 2


def bare_rope(rng: Random, rulebook: Rulebook, level: int = 1) -> Footrope:
    """
    Return a Footrope whose wings end so near a whole number of intervals as ``level`` says.

    ``rng`` is a random.Random. Every wing is as likely to be short of whole intervals as
    not, and at level 1 both are alike. No corner is whole intervals from the center:
    whoever counts from there gets the places wrong.
    """
    interval = round(rulebook.requirement("dropper_spacing").limit / INCH)
    port = _wing(rng, interval, level)
    starboard = port if level == 1 else _wing(rng, interval, level)
    return Footrope(_bosom(rng, interval, level) * INCH, port * INCH, starboard * INCH)


def _bosom(rng: Random, interval: int, level: int) -> int:
    """Return the inches from corner to corner, even, so that both halves are whole inches."""
    step = _BOSOM_STEP[level]
    low, high = round(_SHORTEST_BOSOM / INCH / step), round(_LONGEST_BOSOM / INCH / step)
    sizes = [step * count for count in range(low, high + 1)]
    return rng.choice([size for size in sizes if size / 2 % interval])


def _wing(rng: Random, interval: int, level: int) -> int:
    """Return the inches from a corner to its wing end."""
    off = rng.choice(ENDS) * rng.randint(*_OFF[level])
    return rng.randint(*_INTERVALS[level]) * interval + off
