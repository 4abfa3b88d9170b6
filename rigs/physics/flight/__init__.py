"""
The whole net in steady tow, in equilibrium, in three dimensions.

``bars`` pull and drag, ``system`` has all forces on a net's nodes and ``solve`` brings them to
rest. ``laid`` lays out the mouth and the netting behind it, ``netting`` has its twines,
``droppers`` the single dropper's model as tables, and ``built`` makes a System of a rig.
``unknowns`` says what else is needed and how well it is known, ``believed`` fits it to what was
read, ``flown`` is a net in flight, ``compared`` what a change does and ``cases`` how sure that is.

Left out: the catch, a current across, soft ground, the wake of doors and cables, how the netting
is hung in all detail. Heights are good to a foot or worse until the net's own shine has been read;
what a change does is known better than that.
"""

from .believed import Beliefs, Reading, Seen, believe, custom, fit
from .cases import COUNT, NOTHING, Cases, Span, Spread, draw
from .compared import Moved, compare
from .flown import (
    CENTER,
    POINTS,
    PORT_CORNER,
    PORT_END,
    STARBOARD_CORNER,
    STARBOARD_END,
    Flown,
    Point,
    Trailing,
    fly,
    is_alike,
    missing,
    positions,
)
from .solve import NotAtRest
from .unknowns import Told

__all__ = [
    "CENTER",
    "COUNT",
    "NOTHING",
    "POINTS",
    "PORT_CORNER",
    "PORT_END",
    "STARBOARD_CORNER",
    "STARBOARD_END",
    "Beliefs",
    "Cases",
    "Flown",
    "Moved",
    "NotAtRest",
    "Point",
    "Reading",
    "Seen",
    "Span",
    "Spread",
    "Told",
    "Trailing",
    "believe",
    "compare",
    "custom",
    "draw",
    "fit",
    "fly",
    "is_alike",
    "missing",
    "positions",
]
