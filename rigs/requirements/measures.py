"""The requirements as a table, for those that have not learned to ask ``find`` yet."""

from . import base, codend, droppers, floats, grate, ropes, sweep, trip, wires  # noqa: F401
from .base import APART, MORE_OR_LESS
from .readings import NOTHING, PLAY, Between, Taken

__all__ = ["APART", "MEASURES", "MORE_OR_LESS", "NOTHING", "PLAY", "Between", "Taken"]

MEASURES = base.shelf
