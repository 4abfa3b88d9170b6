"""
A dropper hanging from a towed footrope.

``shape`` solves the chain in the current, ``report`` sets the deck's rule of thumb
beside it.
"""

from .report import Estimate, HeightReport, height_report
from .shape import (
    FRICTION,
    NORMAL_DRAG,
    TANGENTIAL_DRAG,
    Hang,
    Line,
    critical_angle,
    hang,
    line,
    shine_at,
)

__all__ = [
    "FRICTION",
    "NORMAL_DRAG",
    "TANGENTIAL_DRAG",
    "Estimate",
    "Hang",
    "HeightReport",
    "Line",
    "critical_angle",
    "hang",
    "height_report",
    "line",
    "shine_at",
]
