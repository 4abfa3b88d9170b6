"""
The free part of a towed chain whose lower end lies on the bottom.

Everything here is in units of the chain's own submerged weight: ``across`` and
``along`` are the drag per metre of chain, square across the stream and in line
with it, divided by the submerged weight per metre; tensions divided by that
weight are lengths.

With the angle from the vertical written as a, and going up the chain from the
touchdown, equilibrium under the cross-flow principle reads

    T da/ds = -(sin a - across cos^2 a)
      dT/ds =   cos a + along sin^2 a

The chain leaves the bottom flat (a = 90 degrees) and, going up, nears the critical
angle at which the first bracket vanishes. Every length grows in proportion to the
tension at touchdown, so one curve serves all shines. It is run through by q, with
a = critical + (90 degrees - critical) exp(-q), in which every integrand is smooth,
and integrated by Gauss-Legendre quadrature on panels.
"""

from functools import lru_cache
from math import atan2, ceil, exp, log1p, pi, sqrt
from typing import NamedTuple

import numpy as np
from numpy.polynomial import legendre
from numpy.typing import NDArray

Figures = NDArray[np.float64]

_NODES, _WEIGHTS = legendre.leggauss(8)
_PANEL = 0.75  # in q; eight nodes a panel leave about 1e-12 of relative error
_FEWEST = 12  # panels, so that a drawn curve looks round


def _running_weights() -> Figures:
    """Return the matrix that integrates from a panel's left edge to each node."""
    to_coefficients = np.linalg.inv(legendre.legvander(_NODES, 7))
    rows = [legendre.legint(column, lbnd=-1) for column in to_coefficients.T]
    return np.stack([legendre.legval(_NODES, row) for row in rows], axis=1)


_RUNNING = _running_weights()


class Stretch(NamedTuple):
    """
    The free part from the touchdown up to one point, in multiples of the tension there.

    ``length`` along the chain, ``aft`` and ``up`` of that point, ``tension`` at it,
    each for a touchdown tension of one; ``angle`` from the vertical in radians;
    ``pace`` is the growth of ``length`` with q. The
    arrays ``ups`` and ``afts`` run up the chain, touchdown first.
    """

    length: float
    aft: float
    up: float
    tension: float
    angle: float
    pace: float
    afts: Figures
    ups: Figures


def _critical_parts(across: float) -> tuple[float, float]:
    """Return the sine and cosine of the critical angle from the vertical."""
    # The root of across u^2 + u - across, written so that no drag and much drag alike
    # lose no digits.
    share = 2 / (1 + sqrt(1 + 4 * across * across))
    return across * share, sqrt(share)


def critical(across: float) -> float:
    """
    Return the angle from the vertical, in radians, at which weight balances drag.

    Solves sin a = across cos^2 a: the angle of a line that hangs free.
    """
    return atan2(*_critical_parts(across))


def _rate(near: Figures, rest: float, across: float) -> Figures:
    """
    Return (angle - critical) / (sin a - across cos^2 a), ``near`` being the numerator.

    Written with the factors of the bracket, so that it keeps its digits near the
    critical angle, where both vanish. ``rest`` is 90 degrees less that angle.
    """
    factor = across * np.cos(rest - near) + (1 + sqrt(1 + 4 * across * across)) / 2
    return near / (2 * np.sin(rest - near / 2) * np.sin(near / 2) * factor)


def stretch(q: float, across: float, along: float) -> Stretch:
    """Return the Stretch from the touchdown (q = 0) up to ``q``."""
    sine_end, cosine_end = _critical_parts(across)
    rest = atan2(cosine_end, sine_end)  # 90 degrees less the critical angle
    panels = max(_FEWEST, ceil(q / _PANEL))
    half = q / panels / 2
    at = (2 * np.arange(panels)[:, None] + 1 + _NODES[None, :]) * half
    near = rest * np.exp(-at)
    sine, cosine = np.cos(rest - near), np.sin(rest - near)
    rate = _rate(near, rest, across)
    growth = (cosine + along * sine * sine) * rate
    steps = growth @ _WEIGHTS * half
    logs = (np.cumsum(steps) - steps)[:, None] + growth @ _RUNNING.T * half
    tension = np.exp(logs)
    pace = tension * rate
    afts, ups = pace * sine @ _WEIGHTS * half, pace * cosine @ _WEIGHTS * half
    top_tension = exp(float(steps.sum()))
    top_near = rest * exp(-q)
    top_rate = float(_rate(np.array(top_near), rest, across))
    return Stretch(
        length=float((pace @ _WEIGHTS).sum() * half),
        aft=float(afts.sum()),
        up=float(ups.sum()),
        tension=top_tension,
        angle=pi / 2 - rest + top_near,
        pace=top_tension * top_rate,
        afts=np.concatenate([[0.0], afts.cumsum()]),
        ups=np.concatenate([[0.0], ups.cumsum()]),
    )


# Two chains side by side hang as one does, and a range is worked out about each figure.
@lru_cache(maxsize=1024)
def stretch_of(length: float, across: float, along: float) -> Stretch:
    """Return the Stretch whose ``length`` is that multiple of its touchdown tension."""
    # log(1 + length) is nearly straight in q at both ends, so Newton's steps settle fast.
    target = log1p(length)
    q = target
    for _ in range(60):
        part = stretch(q, across, along)
        slope = part.pace / (1 + part.length)
        step = (log1p(part.length) - target) / slope
        q = max(q - step, q / 4)
        if abs(step) <= 1e-13 * q:
            break
    return stretch(q, across, along)
