"""
Tuning a net from what its droppers and its catch show.

``log`` reads heights from shine, ``catch`` the share of bottom animals. ``looks`` says what
to look at before anything is changed, ``doubts`` why a reading cannot tell, ``uplift`` what
a change does to the height, ``foretold`` how well that came true; ``advice`` puts it together.
"""

from .advice import Advice, Tuning, tune
from .catch import STANDS_IN, Bycatch, Catch, bycatch, standard, standard_book
from .foretold import Foretold, last_change
from .log import CENTRE, PLACES, Tow, TowHeights, dropper_at, heights
from .over_ground import SLACK, TIDES, ThroughWater, through_water
from .uplift import Uplift
from .window import CANNOT_TELL, IN_WINDOW, TOO_HIGH, TOO_LOW

__all__ = [
    "CANNOT_TELL",
    "CENTRE",
    "IN_WINDOW",
    "PLACES",
    "SLACK",
    "STANDS_IN",
    "TIDES",
    "TOO_HIGH",
    "TOO_LOW",
    "Advice",
    "Bycatch",
    "Catch",
    "Foretold",
    "ThroughWater",
    "Tow",
    "TowHeights",
    "Tuning",
    "Uplift",
    "bycatch",
    "dropper_at",
    "heights",
    "last_change",
    "standard",
    "standard_book",
    "through_water",
    "tune",
]
