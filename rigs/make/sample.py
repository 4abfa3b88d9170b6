"""
Legal rigs drawn at random, for exercises and for tests.

Sizes fall on the inches and half feet that people use, so that every place on the
net can be said and typed exactly. How near they lie to their limits goes by the level.
"""

from random import Random

from rigs.requirements import droppers_hung, floats, ropes, sweep, wires
from rigs.requirements.sizing import Sizing
from rigs.rules.rulebook import Rulebook
from rigs.words.gear import Footrope, Headrope, Rig

from .ropes import footrope

_PARTS = (ropes, droppers_hung, sweep, floats, wires)


def legal_rig(
    rng: Random, rulebook: Rulebook, difficulty: int = 1, rope: Footrope | None = None
) -> Rig:
    """
    Return a Rig that ``rulebook`` passes in every requirement, practice included.

    ``rng`` is a random.Random. The higher the ``difficulty`` (1 to 3), the nearer
    the sizes lie to their limits and the less even the net. ``rope`` is its Footrope if it
    is to have a certain one.
    """
    sizing = Sizing(rng, rulebook, difficulty)
    rig = Rig(Headrope(None), rope or footrope(rng, rulebook, difficulty))
    for part in _PARTS:
        rig = part.drawn(rig, sizing)
    for requirement in rulebook.requirements:
        rig = requirement.measure.drawn(rig, sizing)
    return rig
