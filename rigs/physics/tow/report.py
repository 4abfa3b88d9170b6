"""The footrope's height from one dropper: the rule of thumb beside the model."""

from dataclasses import dataclass

from .bottoms import UNKNOWN
from .shape import FASTEST, Hang, hang, line

SPEED_SPREAD = 0.3
"""How far the speed through the water may lie from the speed that was entered, m/s:
currents and sea. Common practice, no source."""

RULE_NAME = "Length minus shine"
MODEL_NAME = "Worked out under tow"

RULE_BASIS = (
    "Rule of thumb of the trade, no source. It assumes the chain hangs straight down. "
    "Under tow the footrope is lower."
)
MODEL_BASIS = (
    "Worked out from the chain's weight in water, the drag of the water on it and its "
    "friction on the bottom. Drag figures for studless chain from DNV-OS-E301, from memory. "
    "The range covers a speed not known exactly, slippery or rough ground, and none or all "
    "of the water's drag on the part that lies on the bottom. The bottom shelters some of it."
)


@dataclass(frozen=True, slots=True)
class Estimate:
    """
    One figure for the footrope's height in metres, with how it was worked out.

    ``trade`` marks the figure the trade goes by. ``low`` and ``high`` bound the
    figure where a spread is known, else they are None.
    """

    name: str
    height: float
    basis: str
    trade: bool
    low: float | None = None
    high: float | None = None


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

    rule: Estimate
    model: Estimate
    hang: Hang
    by_speed: tuple[float, float]
    by_friction: tuple[float, float]
    with_lying_drag: float
    at_least: bool

    @property
    def estimates(self):
        """Both estimates, the trade's first."""
        return (self.rule, self.model)


def height_report(
    stock, count, length, speed, shine, friction=None, bottom=UNKNOWN, speed_spread=SPEED_SPREAD
):
    """
    Return the HeightReport of a dropper of ``count`` chains of ``stock`` (``rigs.physics.chain``).

    ``length`` and ``shine`` in metres; ``speed`` through the water in m/s, known to
    within ``speed_spread``. ``bottom`` is a Bottom; a ``friction`` given besides takes
    the place of its likely one. Raise ValueError, in plain words, for what no dropper
    can show.
    """
    chain_line = line(stock)
    friction = bottom.likely if friction is None else friction
    likely = hang(chain_line, length, speed, shine, friction, count)
    slow, fast = max(0.0, speed - speed_spread), min(FASTEST, speed + speed_spread)
    smooth, rough = min(bottom.least, friction), max(bottom.most, friction)

    def height(at_speed, at_friction, **others):
        return hang(chain_line, length, at_speed, shine, at_friction, **others).height

    return HeightReport(
        rule=Estimate(RULE_NAME, length - shine, RULE_BASIS, trade=True),
        model=Estimate(
            MODEL_NAME,
            likely.height,
            MODEL_BASIS,
            trade=False,
            low=height(fast, rough, lying_drag=True),
            high=height(slow, smooth),
        ),
        hang=likely,
        by_speed=(height(fast, friction), height(slow, friction)),
        by_friction=(height(speed, rough), height(speed, smooth)),
        with_lying_drag=height(speed, friction, lying_drag=True),
        at_least=not likely.touches,
    )
