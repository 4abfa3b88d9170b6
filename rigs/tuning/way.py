"""Which way to change a net first, before it is asked by how much."""

from rigs.physics.practice import RuleOfThumb
from rigs.words.say import gettext_lazy

from .log import TowHeights
from .window import IN_WINDOW, TOO_HIGH, TOO_LOW, status_shown

LIFT, LEAVE, HOLD, EVEN_UP = "lift", "leave", "hold", gettext_lazy("even up")
WAYS = (LIFT, LEAVE, HOLD, EVEN_UP)
"""Lift it, leave it, hold it down, or first bring both sides to one height."""

_BY_STATUS = {TOO_LOW: LIFT, IN_WINDOW: LEAVE, TOO_HIGH: HOLD}


def way(heights: TowHeights, window: RuleOfThumb) -> str | None:
    """
    Return the one of WAYS that ``heights``, a TowHeights, asks for; None if it cannot be told.

    ``window`` is the practice.RuleOfThumb for the height. An uneven net is evened up
    before anything else, since its mean height says little; then the model's mean height
    decides, as it does in ``tune``.
    """
    if heights.low_side is not None:
        return EVEN_UP
    return _BY_STATUS.get(status_shown(heights.model, window, heights.at_least))
