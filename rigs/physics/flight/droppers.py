"""Droppers as a flight sees them: what one pulls with its top at any height."""

from functools import lru_cache
from math import sin
from typing import NamedTuple

import numpy as np

from rigs.physics import chain, tow

from .bars import Figures

HIGHEST = 3.0
"""Metres up to which droppers are tabulated: no higher does one reach."""
_STEPS = 600
_SHINES = 48
_SPEEDS, _FRICTIONS = 0.1, 0.1  # m/s and share, the steps between tables


class Table(NamedTuple):
    """Of one dropper, by the height of its top (``heights()``): newtons, and metres of shine."""

    aft: Figures
    down: Figures
    shine: Figures


def table(diameter: float, length: float, speed: float, friction: float) -> Table:
    """
    Return the Table of one dropper, from lying flat to hanging free; from there on it stays.

    Between whole steps of speed and friction by straight lines, so that the same tables serve
    all that is tried. Raise KeyError, in words, for chain that nobody sells.
    """
    slow, faster = _between(speed, _SPEEDS)
    smooth, rougher = _between(friction, _FRICTIONS)
    corners = [
        (_table(diameter, length, slow + i, smooth + j), x * y)
        for i, x in ((0, 1 - faster), (1, faster))
        for j, y in ((0, 1 - rougher), (1, rougher))
        if x * y > 0
    ]
    shares = np.array([share for __, share in corners])
    stacked = np.array([each for each, __ in corners])
    return Table(*np.einsum("c,ckh->kh", shares, stacked))


def _between(value: float, step: float) -> tuple[int, float]:
    low = int(value / step + 1e-9)
    return low, max(0.0, value / step - low)


@lru_cache(maxsize=1024)
def _table(diameter: float, length: float, speeds: int, frictions: int) -> Table:
    line = tow.line(chain.stock_for(diameter))
    speed, friction = speeds * _SPEEDS, frictions * _FRICTIONS
    # Closer together toward no shine, where a small shine already tells on the pull.
    shines = length * np.linspace(1.0, 0.0, _SHINES) ** 1.5
    found = [tow.hang(line, length, speed, float(shine), friction) for shine in shines]
    up = [each.height for each in found]
    return Table(
        np.interp(heights(), up, [each.tension * sin(each.top_angle) for each in found]),
        np.interp(heights(), up, [each.load for each in found]),
        np.interp(heights(), up, shines),
    )


@lru_cache(maxsize=1)
def heights() -> Figures:
    """Return the heights in metres of ``table``, evenly spaced from nothing up."""
    return np.linspace(0.0, HIGHEST, _STEPS + 1)
