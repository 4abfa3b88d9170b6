"""
A dropper hanging from a towed footrope.

``shape`` solves the chain in the current, ``report`` sets the deck's rule of thumb
beside it, ``bottoms`` says how chain rubs on the ground,
and ``card`` puts it all into a table for the deck.
"""

from .bottoms import BOTTOMS, UNKNOWN, Bottom
from .card import Card, card
from .report import HeightEstimate, HeightRange, HeightReport, Known, height_report
from .shape import (
    FRICTION,
    NORMAL_DRAG,
    TANGENTIAL_DRAG,
    ChainLine,
    Hang,
    critical_angle,
    hang,
    line,
)

__all__ = [
    "BOTTOMS",
    "FRICTION",
    "NORMAL_DRAG",
    "TANGENTIAL_DRAG",
    "UNKNOWN",
    "Bottom",
    "Card",
    "ChainLine",
    "Hang",
    "HeightEstimate",
    "HeightRange",
    "HeightReport",
    "Known",
    "card",
    "critical_angle",
    "hang",
    "height_report",
    "line",
]
