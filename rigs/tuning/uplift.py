"""
What a change to the rig does to the footrope's height: an explicit, simple model.

The droppers tell how hard the net pulls up. At the height that the shine shows, each
dropper pulls the footrope down with the free part of its chain, less what the stream
lifts of it; in a steady tow the net's net pull upward is the sum of these. A change
alters that pull (floats, rope) or the chain that bears it (droppers), and the footrope
rises or sinks until the two are equal again: a higher footrope lifts more chain clear.

Left out are the stiffness of legs and netting, which pull the footrope back to where
it flew, and whatever the change does to the shape of the mouth. The spread of an effect
makes room for the first and not for the second. So an effect is a first estimate: change
one thing, then read the shine again.
"""

from bisect import bisect_left
from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from rigs.physics import chain
from rigs.physics.tow import UNKNOWN, Bottom, hang, line
from rigs.physics.tow.report import SPEED_SPREAD
from rigs.physics.tow.shape import FASTEST
from rigs.words.gear import PORT, Rig
from rigs.words.say import gettext as _
from rigs.words.say import gettext_lazy
from rigs.words.units import INCH

from .hung import Hung

Figures = NDArray[np.float64]

LIFT_REACHING = (0.25, 0.5, 1.0)
"""Least, likely and most of a headrope float's lift that reaches the footrope; the rest
goes into the legs and the height of the mouth. An assumption, no source."""

GIVING = (0.25, 1.0)
"""Least and most of a change that legs and netting let through: they are stiff, and were
set by the height at which the net flew. An assumption, no source. The likely figure is
the chain's alone, so it is rather too much than too little."""

BASIS = gettext_lazy(
    "The free chain at the present shine is what the net now holds up. The footrope moves "
    "until chain and pull are equal again, at the same speed. The range covers a speed and a "
    "bottom not known exactly, drag on the lying chain, and legs and netting that may hold "
    "back up to three quarters of the change. That share is an assumption, no source."
)
FLOAT_BASIS = BASIS + gettext_lazy(
    " Half of an added float's lift is assumed to reach the footrope, and between a "
    "quarter and all of it for the range: an assumption, no source."
)

_STEPS = 48


@dataclass(frozen=True, slots=True)
class Uplift:
    """
    Heights in metres before and after a change, by the model.

    ``least`` and ``most`` bound the change of height, by size, over the spread of
    speed, friction and drag, of how far legs and netting give way (``GIVING``) and, for
    floats, of how much of the lift counts; ``low`` and ``high`` bound it by sign.
    ``clear`` says that the droppers would no longer touch, so that ``after`` is the
    least the height could be.
    """

    before: float
    after: float
    least: float
    most: float
    low: float
    high: float
    clear: bool
    basis: str

    @property
    def change(self) -> float:
        """Metres up (positive) or down."""
        return self.after - self.before

    @property
    def may_be_nothing(self) -> bool:
        """Whether the least of the change is less than anybody would see."""
        return abs(self.least) < INCH / 2

    @property
    def up(self) -> bool:
        """Whether the footrope rises."""
        return self.change > 0


@dataclass(frozen=True, slots=True)
class Condition:
    """
    One guess of speed through the water in m/s and friction on the bottom.

    ``sheltered`` says whether the bottom keeps the stream off the lying chain.
    """

    speed: float
    friction: float
    sheltered: bool = True


def conditions(speed: float, bottom: Bottom = UNKNOWN) -> tuple[Condition, ...]:
    """Return the likely Condition on ``bottom`` first, then the two ends of the spread."""
    return (
        Condition(speed, bottom.likely),
        Condition(max(0.0, speed - SPEED_SPREAD), bottom.least),
        Condition(min(FASTEST, speed + SPEED_SPREAD), bottom.most, sheltered=False),
    )


@lru_cache(maxsize=512)
def _curve(
    diameter: float, length: float, condition: Condition
) -> tuple[Figures, Figures, Figures]:
    """
    Return (heights, loads, shines) of one chain, from lying flat to just hanging free.

    Metres, newtons and metres; heights and loads rise, shines fall.
    """
    stock_line = line(chain.stock_for(diameter), sheltered=condition.sheltered)
    # Closer together toward no shine, where a small shine already tells on the load.
    shines = length * np.linspace(1.0, 0.0, _STEPS) ** 1.5
    found = [
        hang(stock_line, length, condition.speed, float(shine), condition.friction)
        for shine in shines
    ]
    return (
        np.array([each.height for each in found]),
        np.array([each.load for each in found]),
        shines,
    )


Chains = Mapping[Hung, float]
"""How many chains of each make hang somewhere."""


def chains(rig: Rig, side: str | None = None) -> Chains:
    """
    Return how many chains of each make hang on ``rig``, as a mapping of Hung to number.

    On one ``side`` a center dropper counts for half. Droppers that were not measured
    raise ValueError.
    """
    found: dict[Hung, float] = defaultdict(float)
    for each in rig.droppers or ():
        hung = Hung.of(each)
        share = 1.0
        if side is not None and abs(each.position) > 1e-9:
            share = float((each.position < 0) == (side == PORT))
        elif side is not None:
            share = 0.5
        if share:
            found[hung] += share * each.count
    if not found:
        raise ValueError(_("There are no droppers to go by."))
    return found


def load(hung: Chains, height: float, condition: Condition) -> float:
    """
    Return the newtons with which the chains ``hung`` pull a footrope at ``height`` down.

    Above a chain's reach it hangs free, and pulls no harder however high it is.
    """
    total = 0.0
    for make, number in hung.items():
        heights, loads, __ = _curve(make.diameter, make.length, condition)
        total += number * float(np.interp(height, heights, loads))
    return total


def reach(hung: Chains, condition: Condition) -> float:
    """Return the height in metres at which the longest reaching of ``hung`` leaves the bottom."""
    return max(float(_curve(each.diameter, each.length, condition)[0][-1]) for each in hung)


def settle(hung: Chains, pull: float, condition: Condition) -> tuple[float, bool]:
    """
    Return (height in metres, whether clear) at which ``hung`` bear an upward ``pull`` in newtons.

    Clear of the bottom if the chains cannot hold it: the height is then their reach.
    """
    stops = sorted(
        {0.0}
        | {
            float(height)
            for make in hung
            for height in _curve(make.diameter, make.length, condition)[0]
        }
    )
    loads = [load(hung, stop, condition) for stop in stops]
    if pull >= loads[-1]:
        return stops[-1], True
    if pull <= loads[0]:
        return 0.0, False
    i = bisect_left(loads, pull)
    part = (pull - loads[i - 1]) / (loads[i] - loads[i - 1])
    return stops[i - 1] + part * (stops[i] - stops[i - 1]), False


class Added(NamedTuple):
    """
    What a change adds upward, in newtons; negative where it is weight.

    ``pull`` is at the footrope. Of ``lift``, at the headrope, the shares LIFT_REACHING count.
    """

    pull: float = 0.0
    lift: float = 0.0


NOTHING_ADDED = Added()


def effect(
    before: Chains,
    after: Chains,
    shine_height: Callable[[Condition], float],
    tried: Iterable[Condition],
    added: Added = NOTHING_ADDED,
) -> Uplift:
    """
    Return the Uplift of going from the chains ``before`` to the chains ``after``.

    ``shine_height`` maps a Condition to the height in metres that the shine now shows
    under it; ``tried`` are the Conditions to count with, the likely one first.
    """
    outcomes: list[float] = []
    shares = LIFT_REACHING if added.lift else (0.0,)
    likely = LIFT_REACHING[1] if added.lift else 0.0
    told: list[tuple[float, float, bool]] = []
    for condition in tried:
        now = shine_height(condition)
        held = load(before, now, condition)
        for share in shares:
            height, clear = settle(after, held + added.pull + share * added.lift, condition)
            outcomes += [giving * (height - now) for giving in GIVING]
            if share == likely:
                told.append((now, height, clear))
    now, height, clear = told[0]
    sizes = sorted(outcomes, key=abs)
    return Uplift(
        before=now,
        after=height,
        least=sizes[0],
        most=sizes[-1],
        low=min(outcomes),
        high=max(outcomes),
        clear=clear,
        basis=FLOAT_BASIS if added.lift else BASIS,
    )
