"""
The speed through the water from the speed over the ground, which is what satellites tell.

A net feels the water alone. The tide at the bottom, where the net is, is not the tide at the
surface: what that does is within the spread that every speed has (``SPEED_SPREAD``).
"""

from math import hypot
from typing import NamedTuple

from rigs.physics.tow.report import SPEED_SPREAD
from rigs.words.say import gettext_lazy
from rigs.words.units import KNOT

WITH, AGAINST, ACROSS, SLACK = "with", "against", "across", "slack"

TIDES = {
    WITH: gettext_lazy("With the tide"),
    AGAINST: gettext_lazy("Against the tide"),
    ACROSS: gettext_lazy("Across the tide"),
    SLACK: gettext_lazy("Slack water"),
}
"""How a vessel tows to the tide, in the words of the deck."""

STRONGEST = KNOT
"""What a tide of unknown strength may run at most, m/s: an assumption, no source."""


class ThroughWater(NamedTuple):
    """A speed through the water, m/s, known to within ``spread``."""

    speed: float
    spread: float = SPEED_SPREAD


def through_water(
    over_ground: float, tide: str = "", strength: float | None = None
) -> ThroughWater:
    """
    Return the ThroughWater of a vessel that makes ``over_ground``, m/s, over the ground.

    ``tide`` is one of TIDES, blank if it was not noted; ``strength`` is that of the tide, m/s.
    What was not noted makes the spread wider. Speeds are vectors: ground = water + tide.
    """
    if tide == SLACK:
        return ThroughWater(over_ground)
    least, most = (0.0, STRONGEST) if strength is None else (strength, strength)
    if tide == WITH:
        ends = over_ground - most, over_ground - least
    elif tide == AGAINST:
        ends = over_ground + least, over_ground + most
    elif tide == ACROSS:
        ends = hypot(over_ground, least), hypot(over_ground, most)
    else:
        ends = over_ground - most, over_ground + most
    slow, fast = max(0.0, ends[0]), ends[1]
    return ThroughWater((slow + fast) / 2, SPEED_SPREAD + (fast - slow) / 2)
