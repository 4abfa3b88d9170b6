"""The footrope's height from one dropper: the rule of thumb beside the model."""

from dataclasses import dataclass

from .shape import FASTEST, FRICTION, Hang, hang, line

SPEED_SPREAD = 0.3
"""How far the speed through the water may lie from the speed told, m/s: currents and
sea. Common practice, no source."""

SLIPPERY, ROUGH = 0.2, 0.8
"""Least and most friction of chain on the bottom looked at; see ``FRICTION``."""

RULE_BASIS = (
    "Rule of thumb of the trade, no source. It takes the chain to hang straight down, so under "
    "tow it is the most the height can be."
)
MODEL_BASIS = (
    "Worked out from the chain's weight in water, the drag of the stream on it and its friction "
    "on the bottom. Drag figures for studless chain from DNV-OS-E301, from memory."
)


@dataclass(frozen=True, slots=True)
class Estimate:
    """
    One figure for the footrope's height in metres, with how it was come by.

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
    with the other held, ``model.low`` and ``model.high`` over both.
    ``with_lying_drag`` is the model's height if the stream drags at the lying chain
    too, which is not part of the spread. ``at_least`` says that nothing
    touched, so that the footrope may fly higher than either figure.
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


def height_report(stock, count, length, speed, shine, friction=FRICTION):
    """
    Return the HeightReport of a dropper of ``count`` chains of ``stock`` (``rigs.chain``).

    ``length`` and ``shine`` in metres, ``speed`` through the water in m/s. Raise
    ValueError, in plain words, for what no dropper can show.
    """
    chain_line = line(stock)
    likely = hang(chain_line, length, speed, shine, friction, count)
    slow, fast = max(0.0, speed - SPEED_SPREAD), min(FASTEST, speed + SPEED_SPREAD)
    smooth, rough = min(SLIPPERY, friction), max(ROUGH, friction)

    def height(at_speed, at_friction, **others):
        return hang(chain_line, length, at_speed, shine, at_friction, **others).height

    return HeightReport(
        rule=Estimate("Length minus shine", length - shine, RULE_BASIS, trade=True),
        model=Estimate(
            "Chain in the current",
            likely.height,
            MODEL_BASIS,
            trade=False,
            low=height(fast, rough),
            high=height(slow, smooth),
        ),
        hang=likely,
        by_speed=(height(fast, friction), height(slow, friction)),
        by_friction=(height(speed, rough), height(speed, smooth)),
        with_lying_drag=height(speed, friction, lying_drag=True),
        at_least=not likely.touches,
    )
