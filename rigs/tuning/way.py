"""Which way to change a net first, before it is asked by how much."""

from ..gear import PORT, STARBOARD
from .window import EVEN, IN_WINDOW, TOO_HIGH, TOO_LOW, status_of, status_shown

LIFT, LEAVE, HOLD, EVEN_UP = "lift", "leave", "hold", "even up"
WAYS = (LIFT, LEAVE, HOLD, EVEN_UP)
"""Lift it, leave it, hold it down, or first bring both sides to one height."""

_BY_STATUS = {TOO_LOW: LIFT, IN_WINDOW: LEAVE, TOO_HIGH: HOLD}


def way(heights, window):
    """
    Return the one of WAYS that ``heights``, a TowHeights, asks for; None if it cannot be told.

    ``window`` is the practice.RuleOfThumb for the height. An uneven net is evened up
    before anything else, since its mean height says little; then the model's mean height
    decides, as it does in ``tune``.
    """
    difference = heights.difference
    if difference is not None and abs(difference) > EVEN:
        return EVEN_UP
    return _BY_STATUS.get(status_shown(heights.model, window, heights.at_least))


def ways_within_spread(heights, window):
    """Return the WAYS that some height within the model's spread asks for, as a set."""
    first = way(heights, window)
    if first in (EVEN_UP, None):
        return {first} - {None}
    return {first} | {_BY_STATUS[status_of(h, window)] for h in (heights.low, heights.high)}


def low_side(heights):
    """Return the side that flies lower, None if both fly alike or one was not read."""
    difference = heights.difference
    if difference is None or abs(difference) <= EVEN:
        return None
    return PORT if difference < 0 else STARBOARD
