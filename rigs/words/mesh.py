"""
How the regulation has mesh measured, and what it forbids on a net under a mesh rule.

All of it was read in the 2015 edition of 50 CFR 648.80, paragraphs (f)(2), (g)(1) and
(g)(2), for nets other than gillnets; it can have changed since. Lengths are metres,
masses kilograms.
"""

from typing import NamedTuple

from .units import INCH

MEASURED = "50 CFR 648.80(f)(2)"
"""The clause that says how mesh is measured."""

SERIES = 20
"""Consecutive meshes of which the average is the size of the mesh."""

FROM_LACINGS = 5
"""How many meshes the series keeps away from the lacings, at the least."""


class Gauge(NamedTuple):
    """
    A wedge pushed into the mesh: ``thick``, and narrowing by ``taper`` over ``length``.

    It goes in with the mass ``light`` for mesh smaller than ``turn``, ``heavy`` from there up.
    """

    thick: float
    taper: float
    length: float
    turn: float
    light: float
    heavy: float


GAUGE = Gauge(thick=0.0023, taper=0.02, length=0.08, turn=0.12, light=5.0, heavy=8.0)

TOP_HALF = "50 CFR 648.80(g)(1)"
"""The clause on what may not be on the half of the net away from the bottom."""

CLOSED_UP = "50 CFR 648.80(g)(2)"
"""The clause against mesh rigged so that it blocks the meshes of the top half."""

STRAP = 3 * INCH
"""
The most that the rope of the one splitting strap and the one bull rope may measure.

They are allowed on the top half as long as they do not close it up.
"""
