"""The sweep, if there is one: its chain, its length, and how it is joined to the rest."""

from math import inf

from rigs.words.gear import PORT, SIDES, STARBOARD, Rig
from rigs.words.units import INCH

from .base import APART, MORE_OR_LESS, Measure
from .readings import NOTHING, PLAY, Between, Readings
from .spans import SoldChain, Steps


class NoSweep(Measure):
    """Whether there is no sweep."""

    key = "no_sweep"
    dimension = "flag"

    def read(self, rig: Rig) -> Readings | None:
        return [rig.sweep is None], ("sweep",)


class SweepStock(Measure):
    """Of how thick a chain the sweep is."""

    key = "sweep_stock"
    dimension = "length"
    allowance = "diameter"
    chain = True
    scale = SoldChain()

    def read(self, rig: Rig) -> Readings | None:
        return NOTHING if rig.sweep is None else ([rig.sweep.diameter], ("sweep",))


class SweepBare(Measure):
    """Whether the sweep is bare chain."""

    key = "sweep_bare"
    dimension = "flag"

    def read(self, rig: Rig) -> Readings | None:
        return NOTHING if rig.sweep is None else ([rig.sweep.bare], ("sweep",))


class SweepOverFootrope(Measure, shared=True):
    """By how much a part of the sweep is longer than the footrope above it."""

    dimension = "length"
    allowance = "length"
    zero = MORE_OR_LESS


class SweepExcess(SweepOverFootrope):
    """By how much the whole sweep is longer than the whole footrope."""

    key = "sweep_excess"
    # Printed as 7 ft and as 2.1 m, which is more than an inch less: either keeps it.
    scale = Steps(2 * INCH, 6)

    def read(self, rig: Rig) -> Readings | None:
        if rig.sweep is None:
            return NOTHING
        port, starboard = rig.sweep.port, rig.sweep.starboard
        if port is not None and starboard is not None:
            return [port + starboard - rig.footrope.length], ("sweep",)
        known = starboard if port is None else port
        if known is None:
            return None
        return [Between(known - rig.footrope.length, inf)], ("sweep",)


class SweepExcessEachSide(SweepOverFootrope):
    """By how much the sweep is longer than the footrope on either side of the center."""

    key = "sweep_excess_each_side"
    scale = Steps(INCH, 6)

    def read(self, rig: Rig) -> Readings | None:
        if rig.sweep is None:
            return NOTHING
        halves = [(rig.sweep.half(side), abs(rig.footrope.end(side))) for side in SIDES]
        values = [None if half is None else half - rope for half, rope in halves]
        return values, ("port side of the sweep", "starboard side of the sweep")


class SweepWingExcess(SweepOverFootrope):
    """By how much it is longer than the footrope beyond each side's outermost dropper."""

    key = "sweep_wing_excess"
    scale = Steps(INCH, 6)

    def read(self, rig: Rig) -> Readings | None:
        if rig.sweep is None:
            return NOTHING
        if rig.droppers is None:
            return None
        values: list[float | Between | None] = []
        for side, sign in ((PORT, -1), (STARBOARD, 1)):
            end = abs(rig.footrope.end(side))
            on_it = [each for each in rig.droppers if 0 <= sign * each.position <= end + PLAY]
            half = rig.sweep.half(side)
            if not on_it or half is None:
                values.append(None)
                continue
            outer = max(on_it, key=lambda each: abs(each.position))
            rope_part = end - sign * outer.position
            if outer.sweep_position is None:
                # It meets the sweep somewhere from the middle to the end of this half.
                values.append(Between(-rope_part, half - rope_part))
            else:
                values.append(half - sign * outer.sweep_position - rope_part)
        return values, ("port wing end", "starboard wing end")


class SweepAttachment(Measure):
    """How far a dropper leans: its lower end from straight below the upper."""

    key = "sweep_attachment"
    dimension = "length"
    allowance = "length"
    zero = APART
    scale = Steps(INCH, 4)

    def read(self, rig: Rig) -> Readings | None:
        if rig.sweep is None:
            return NOTHING
        if rig.droppers is None:
            return None
        values = [
            None if each.sweep_position is None else abs(each.sweep_position - each.position)
            for each in rig.droppers
        ]
        return values, rig.droppers


class SweepJoinsLeg(Measure):
    """Whether sweep and footrope meet the bottom leg at one point."""

    key = "sweep_joins_leg"
    dimension = "flag"

    def read(self, rig: Rig) -> Readings | None:
        return NOTHING if rig.sweep is None else ([rig.sweep.joins_with_footrope], ("bottom leg",))
