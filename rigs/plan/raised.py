"""A footrope held at a height of one's choice: how its droppers hang then."""

from functools import lru_cache
from typing import NamedTuple

from rigs.physics import chain
from rigs.physics.tow import Hang, hang, line
from rigs.rules.rulebook import Rulebook
from rigs.words.units import INCH, KNOT

from . import trial

HIGHEST = 36
"""To how many inches off the bottom the footrope can be raised. No source."""

_CLOSE = 1e-6  # metres


class Raised(NamedTuple):
    """
    A footrope ``height`` metres off the bottom, and the ``hang`` of a dropper under it.

    ``clear`` is how far the dropper's lowest point is off the bottom, metres: nought where
    it touches.
    """

    height: float
    choice: chain.Choice
    hang: Hang
    clear: float


def raised(rulebook: Rulebook, height: float) -> Raised:
    """
    Return the footrope of a net by ``rulebook``, a gear rule set, Raised to ``height`` metres.

    It is towed at the speed at which a dropper is tried, on the heaviest chain allowed, each
    dropper as short as may be. Under tow such a dropper trails, so that the footrope is lower
    than length minus shine.
    """
    dials = {dial.key: dial for dial in trial.dials(rulebook)}
    choice = trial.choices(rulebook)[0]
    length, speed = dials["length"].start * INCH, dials["speed"].start * KNOT
    chain_line = line(choice.stock, choice.count)
    free = hang(chain_line, length, speed)
    if height >= free.height:
        return Raised(height, choice, free, height - free.height)
    return Raised(height, choice, hang(chain_line, length, speed, _shine(free, height)), 0.0)


def _shine(free: Hang, height: float) -> float:
    """Return how much of the dropper ``free`` lies on the bottom with the footrope at ``height``.

    The more lies, the lower it is, so that halving finds it.
    """
    least, most = 0.0, free.length
    while most - least > _CLOSE:
        middle = (least + most) / 2
        if hang(free.line, free.length, free.speed, middle).height > height:
            least = middle
        else:
            most = middle
    return most


@lru_cache(maxsize=8)
def every(rulebook: Rulebook) -> tuple[Raised, ...]:
    """Return the footrope Raised to every whole inch, from the bottom up to HIGHEST."""
    return tuple(raised(rulebook, inch * INCH) for inch in range(HIGHEST + 1))
