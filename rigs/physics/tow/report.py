"""The footrope's height from one dropper: the rule of thumb beside the model."""

from dataclasses import dataclass
from typing import NamedTuple

from rigs.words.say import gettext_lazy

from ..chain import Choice
from .bottoms import UNKNOWN, Bottom
from .shape import FASTEST, ChainLine, Hang, hang, line

SPEED_SPREAD = 0.3
"""How far the speed through the water may lie from the speed that was entered, m/s:
currents and sea. Common practice, no source."""

RULE_NAME = gettext_lazy("Length minus shine")
MODEL_NAME = gettext_lazy("Worked out under tow")

RULE_BASIS = gettext_lazy(
    "Rule of thumb of the trade, no source. It assumes the chain hangs straight down. Under "
    "tow the footrope is lower."
)
MODEL_BASIS = gettext_lazy(
    "Worked out from the chain's weight in water, the drag of the water on it and its "
    "friction on the bottom. Drag figures for studless chain from DNV-OS-E301, from memory. "
    "The range covers a speed not known exactly, slippery or rough ground, and none or all "
    "of the water's drag on the part that lies on the bottom. The bottom shelters some of it."
)


class Known(NamedTuple):
    """
    How well the conditions of a tow are known.

    ``bottom`` is what the net is towed over, and the speed through the water is known to
    within ``speed_spread``, m/s.
    """

    bottom: Bottom = UNKNOWN
    speed_spread: float = SPEED_SPREAD


LITTLE_KNOWN = Known()
"""Over any bottom, and a speed as it is mostly known."""


@dataclass(frozen=True, slots=True)
class HeightEstimate:
    """
    One figure for the footrope's height in metres, with how it was worked out.

    ``trade`` marks the figure the trade goes by.
    """

    name: str
    height: float
    basis: str
    trade: bool


@dataclass(frozen=True, slots=True)
class HeightRange(HeightEstimate):
    """A HeightEstimate with a spread: ``low`` and ``high`` bound it, in metres."""

    low: float
    high: float


@dataclass(frozen=True, slots=True)
class HeightReport:
    """
    What one dropper's shine says about the footrope's height, in metres.

    ``rule`` and ``model`` are the two estimates; ``hang`` the model's dropper.
    ``by_speed`` and ``by_friction`` are the model's (lowest, highest) over one spread
    with the other held. ``with_lying_drag`` is the model's height if the stream drags
    at all of the lying chain, of which ``model.height`` counts none. ``model.low`` and
    ``model.high`` are over all three. ``at_least`` says that nothing touched, so that
    the footrope may fly higher than either figure.
    """

    rule: HeightEstimate
    model: HeightRange
    hang: Hang
    by_speed: tuple[float, float]
    by_friction: tuple[float, float]
    with_lying_drag: float
    at_least: bool

    @property
    def estimates(self) -> tuple[HeightEstimate, HeightRange]:
        """Both estimates, the trade's first."""
        return (self.rule, self.model)


def height_report(
    choice: Choice, length: float, speed: float, shine: float, known: Known = LITTLE_KNOWN
) -> HeightReport:
    """
    Return the HeightReport of a dropper of the chain or chains of ``choice``.

    ``length`` and ``shine`` in metres; ``speed`` through the water in m/s. ``known`` says
    over what and how exactly. Raise ValueError, in plain words, for what no dropper can show.
    """
    sheltered, dragged = (
        line(choice.stock, choice.count, sheltered=each) for each in (True, False)
    )
    bottom = known.bottom
    likely = hang(sheltered, length, speed, shine, bottom.likely)
    slow = max(0.0, speed - known.speed_spread)
    fast = min(FASTEST, speed + known.speed_spread)

    def height(chain_line: ChainLine, at_speed: float, friction: float) -> float:
        return hang(chain_line, length, at_speed, shine, friction).height

    return HeightReport(
        rule=HeightEstimate(RULE_NAME, length - shine, RULE_BASIS, trade=True),
        model=HeightRange(
            MODEL_NAME,
            likely.height,
            MODEL_BASIS,
            trade=False,
            low=height(dragged, fast, bottom.most),
            high=height(sheltered, slow, bottom.least),
        ),
        hang=likely,
        by_speed=(height(sheltered, fast, bottom.likely), height(sheltered, slow, bottom.likely)),
        by_friction=(height(sheltered, speed, bottom.most), height(sheltered, speed, bottom.least)),
        with_lying_drag=height(dragged, speed, bottom.likely),
        at_least=not likely.touches,
    )
