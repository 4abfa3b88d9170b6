"""What the shine of some tows shows of how hard the net pulls up."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from rigs.physics import chain
from rigs.physics.tow import UNKNOWN, Bottom, hang, line
from rigs.physics.tow.shape import FASTEST
from rigs.words.gear import Rig

from .log import PlaceHeight, Tow, TowHeights
from .uplift import Added, Condition, Uplift, chains, conditions, effect
from .window import mean


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
    height: Callable[[Condition, str | None], float]
    known: Callable[[str | None], bool]
    bottom: Bottom = UNKNOWN

    def effect(
        self,
        before: Rig,
        after: Rig,
        side: str | None = None,
        pull: float = 0.0,
        lift: float = 0.0,
    ) -> Uplift | None:
        """Return the Uplift of a change, None where the pull is unknown."""
        if not self.known(side):
            return None
        return effect(
            chains(before, side),
            chains(after, side),
            lambda condition: self.height(condition, side),
            conditions(self.speed, self.bottom),
            Added(pull, lift),
        )


def weighable(rig: Rig) -> bool:
    """Return whether every dropper of ``rig`` was measured and is of a chain known here."""
    return bool(rig.droppers) and all(
        each.length is not None
        and each.diameter is not None
        and any(
            abs(each.diameter - stock.size) < chain.TOLERANCE for stock in chain.STOCKS.values()
        )
        for each in rig.droppers or ()
    )


def shown(rig: Rig, used: Sequence[TowHeights]) -> Shown:
    """Return the Shown of ``rig`` from ``used``, the TowHeights of tows made with it."""
    speed = mean([each.tow.speed for each in used])
    places = [(each.tow, place) for each in used for place in each.places]
    bottoms = {each.tow.bottom for each in used}

    def on(side: str | None) -> list[tuple[Tow, PlaceHeight]]:
        return [each for each in places if side is None or each[1].side == side]

    def height(condition: Condition, side: str | None) -> float:
        found = []
        for tow, place in on(side):
            hung = place.hung
            at = min(FASTEST, max(0.0, tow.speed + condition.speed - speed))
            found.append(
                hang(
                    line(hung.stock, sheltered=condition.sheltered),
                    hung.length,
                    at,
                    place.shine,
                    condition.friction,
                ).height
            )
        return mean(found)

    all_weighed = weighable(rig)

    def known(side: str | None) -> bool:
        # On a sweep no dropper hangs free, and the sweep weighs on the footrope too.
        return (
            all_weighed
            and rig.sweep is None
            and any(0 < place.shine < place.hung.length for _, place in on(side))
        )

    return Shown(speed, height, known, bottoms.pop() if len(bottoms) == 1 else UNKNOWN)
