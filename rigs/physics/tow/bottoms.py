"""The kinds of bottom a dropper drags over, each with how much chain rubs on it."""

from dataclasses import dataclass

from rigs.words.say import gettext_lazy


@dataclass(frozen=True, slots=True)
class Bottom:
    """
    A kind of bottom; ``name`` is what people on deck say.

    ``least``, ``likely`` and ``most`` are the friction of chain on it, as a share of
    the lying chain's weight in water. Common practice, no source.
    """

    key: str
    name: str
    least: float
    likely: float
    most: float


MUD = Bottom("mud", "mud", 0.2, 0.3, 0.4)
SAND = Bottom("sand", "sand", 0.4, 0.5, 0.6)
STONES = Bottom("stones", "stones", 0.6, 0.7, 0.8)

BOTTOMS = {each.key: each for each in (MUD, SAND, STONES)}
"""What can be told of the bottom, softest first."""

UNKNOWN = Bottom("", gettext_lazy("not known"), MUD.least, SAND.likely, STONES.most)
"""Any of them: the middle one, with the spread of all."""
