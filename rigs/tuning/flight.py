"""How a net flies: the heights of some tows made alike, taken together."""

from dataclasses import dataclass

from rigs.physics.practice import RuleOfThumb
from rigs.words.gear import SIDES

from .log import TowHeights
from .looks import lopsided
from .window import mean, mean_of, status_shown


@dataclass(frozen=True, slots=True)
class Flight:
    """
    The heights of ``run``, at least one tow's, against the ``window`` of the trade.

    All heights are metres, and means of those of the tows.
    """

    run: tuple[TowHeights, ...]
    window: RuleOfThumb

    @property
    def height(self) -> float:
        """The height by the model."""
        return mean([each.model for each in self.run])

    @property
    def low(self) -> float:
        """The least it may be."""
        return mean([each.low for each in self.run])

    @property
    def high(self) -> float:
        """The most it may be."""
        return mean([each.high for each in self.run])

    @property
    def rule(self) -> float:
        """The height by length minus shine."""
        return mean([each.rule for each in self.run])

    @property
    def difference(self) -> float | None:
        """Port less starboard by the model; None if no tow was read on both sides."""
        return mean_of(each.difference for each in self.run)

    def side(self, side: str) -> float | None:
        """Return the height by the model on ``side``, None if nothing was read there."""
        return mean_of(each.side(side) for each in self.run)

    @property
    def levels(self) -> dict[str | None, float]:
        """The height of each side; that of the whole footrope, under None, if one is not known."""
        by_side = {side: self.side(side) for side in SIDES}
        known: dict[str | None, float] = {
            side: height for side, height in by_side.items() if height is not None
        }
        return known if len(known) == len(SIDES) else {None: self.height}

    @property
    def low_side(self) -> str | None:
        """The side that flies lower, None if they are even or it cannot be told."""
        return lopsided(self.run)

    @property
    def at_least(self) -> bool:
        """Whether a dropper showed no shine, so that the footrope may fly higher there."""
        return any(each.clear_places for each in self.run)

    @property
    def status(self) -> str:
        """How the height by the model stands to the window."""
        return status_shown(self.height, self.window, self.at_least)

    @property
    def rule_status(self) -> str:
        """How length minus shine stands to the window."""
        return status_shown(self.rule, self.window, self.at_least)
