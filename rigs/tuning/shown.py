"""What the shine of some tows shows of how hard the net pulls up."""

from collections.abc import Callable
from dataclasses import dataclass

from rigs.physics import chain
from rigs.physics.tow import UNKNOWN, Bottom, hang, line
from rigs.physics.tow.shape import FASTEST

from .uplift import chains, effect
from .window import mean_of


@dataclass(frozen=True, slots=True)
class Shown:
    """
    What the shine shows: ``height`` maps a Condition and a side, or None for the
    whole footrope, to metres; ``speed`` is the mean through the water, m/s. ``known``
    says of a side or of None whether the pull of the droppers there can be told: not if
    all of them hung clear or lay flat, or if one was not measured. ``bottom`` is that of
    all the tows.
    """

    speed: float
    height: Callable
    known: Callable
    bottom: Bottom = UNKNOWN

    def effect(self, before, after, side=None, pull=0.0, lift=0.0):
        """Return the Effect of a change, None where the pull is unknown."""
        if not self.known(side):
            return None
        return effect(
            chains(before, side),
            chains(after, side),
            lambda condition: self.height(condition, side),
            self.speed,
            pull,
            lift,
            self.bottom,
        )


def weighable(rig):
    """Return whether every dropper of ``rig`` was measured and is of a chain known here."""
    return bool(rig.droppers) and all(
        each.length is not None
        and each.diameter is not None
        and any(
            abs(each.diameter - stock.size) < chain.TOLERANCE for stock in chain.STOCKS.values()
        )
        for each in rig.droppers
    )


def shown(rig, used):
    """Return the Shown of ``rig`` from ``used``, the TowHeights of tows made with it."""
    speed = mean_of(each.tow.speed for each in used)
    places = [(each.tow, place) for each in used for place in each.places]
    bottoms = {each.tow.bottom for each in used}

    def on(side):
        return [each for each in places if side is None or each[1].side == side]

    def height(condition, side):
        found = []
        for tow, place in on(side):
            hung = place.dropper
            at = min(FASTEST, max(0.0, tow.speed + condition.speed - speed))
            found.append(
                hang(
                    line(chain.stock_for(hung.diameter), sheltered=condition.sheltered),
                    hung.length,
                    at,
                    place.shine,
                    condition.friction,
                ).height
            )
        return sum(found) / len(found)

    all_weighed = weighable(rig)

    def known(side):
        # On a sweep no dropper hangs free, and the sweep weighs on the footrope too.
        return (
            all_weighed
            and rig.sweep is None
            and any(0 < place.shine < place.dropper.length for _, place in on(side))
        )

    return Shown(speed, height, known, bottoms.pop() if len(bottoms) == 1 else UNKNOWN)
