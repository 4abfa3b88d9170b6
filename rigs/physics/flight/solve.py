"""
Bringing a System to rest: Newton's steps, held back at first and not at the end.

A cold start is held back by a damping that lets go as the forces even out. The
up-and-down mode of a net is so soft that damping fakes an answer: the last steps have
next to none, and what is answered is checked without it.
"""

from dataclasses import dataclass

import numpy as np

from rigs.words.say import gettext as _

from .bars import Figures
from .system import System

BALANCED = 1e-4
"""The largest force left on any node, as a share of the drag of all."""
STILL = 5e-5
"""The longest last step, next to undamped, in metres."""

_LONGEST = 0.6  # metres that a node may go in one step
_MOST = 200  # steps
_COLD, _WARM, _NONE = 2000.0, 1.0, 1e-6  # N/m of damping: at first, from a rest nearby, at last
_LET_GO = 1e-3  # N/m or metres a step, from which on there is no damping


class NotAtRest(Exception):
    """No equilibrium was found."""


@dataclass(frozen=True, slots=True)
class Rest:
    """
    Where the nodes ``at`` (nodes, 3) came to rest after ``steps``.

    ``left`` is the largest force left on one of them, as a share of the drag of all.
    """

    at: Figures
    steps: int
    left: float


def settle(system: System, start: Figures, *, cold: bool = True) -> Rest:
    """
    Return the Rest of ``system`` from the places ``start`` (nodes, 3), in metres.

    ``cold`` says that they are only a guess. Raise NotAtRest, in plain words, if none is
    found.
    """
    from scipy.sparse import diags
    from scipy.sparse.linalg import splu

    at, free = start.copy(), system.free
    whole = max(float(np.abs(system.drag(at)[:, 0]).sum()), 1.0)
    held = _COLD if cold else _WARM
    pulls = None
    for step in range(1, _MOST + 1):
        worked = system.work(at, pulls)
        force = worked.forces[free]
        left = float(np.abs(force).max()) / whole
        damped = worked.slopes + diags(np.full(len(force), held))
        move = np.zeros_like(at)
        try:
            move[free] = splu(damped.tocsc()).solve(force)
        except RuntimeError:  # two nodes of a line came to lie in one place
            break
        longest = float(np.abs(move).max())
        if not np.isfinite(longest):
            break
        if left < BALANCED and longest < STILL and held <= _NONE:
            return Rest(at, step, left)
        scale = min(1.0, _LONGEST / longest)
        move *= scale
        pulls = system.foretold(at, move)
        at += move
        if scale < 1.0:
            held = min(held * 2.0, 50 * _COLD)
        else:
            held *= 0.3 if longest < _LONGEST / 2 else 0.7
        if held < _LET_GO or longest < _LET_GO:
            held = _NONE
    raise NotAtRest(_("No steady flight was found for this net."))
