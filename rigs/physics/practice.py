"""
Rules of thumb of the trade: figures that no regulation sets.

Each is common practice with no published source, and says so. They are kept apart
from the rule sets, so that nobody takes habit for law.
"""

from dataclasses import dataclass

from rigs.words.say import gettext_lazy
from rigs.words.units import FOOT

NO_SOURCE = gettext_lazy("common practice, no source")


@dataclass(frozen=True, slots=True)
class RuleOfThumb:
    """
    A figure of the trade; ``low`` and ``high`` are metres and may be the same.

    ``text`` says it in the words of the deck, ``basis`` where it comes from.
    """

    key: str
    title: str
    low: float
    high: float
    text: str
    basis: str = NO_SOURCE

    def holds(self, value: float) -> bool:
        """Return whether ``value`` in metres lies within the rule of thumb."""
        return self.low <= value <= self.high


FOOTROPE_HEIGHT = RuleOfThumb(
    "footrope_height",
    gettext_lazy("Height of the footrope over the bottom"),
    FOOT,
    2 * FOOT,
    "1 to 2 ft",
)

RULES = {rule.key: rule for rule in (FOOTROPE_HEIGHT,)}


def rule(key: str) -> RuleOfThumb:
    """Return the rule of thumb called ``key``; raise KeyError if there is none."""
    return RULES[key]
