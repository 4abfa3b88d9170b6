"""The sweep, if there is one: its chain, its length, and how it is joined to the rest."""

from collections.abc import Iterable
from math import inf

from rigs.words import sizes
from rigs.words.gear import PORT, SIDES, STARBOARD, Rig
from rigs.words.units import INCH, feet_inches, inches

from .base import APART, MORE_OR_LESS, Measure, worst
from .doubt import Doubt, many
from .droppers import DROPPERS, LAST
from .questions import LENGTH, RIGHT_THERE, OnSheet, Question, Total, each_side, one, sides
from .readings import NOTHING, PLAY, Between, Readings
from .ropes import BOSOM, FOOTROPE, WING
from .spans import SoldChain, Steps

SWEEP = Question(
    "sweep",
    "Is there a sweep on the net?",
    of=lambda rig: rig.sweep is not None,
    stop="sweep",
    place=10,
)
_CHAIN = Question(
    "sweep_chain",
    "Size of the sweep chain",
    LENGTH,
    "in",
    "chain",
    help="The size it is sold under.",
    picks=tuple(inches(size) for size in sizes.chains()),
    of=lambda rig: None if rig.sweep is None else rig.sweep.diameter,
    stop="sweep",
    place=40,
)
_HALF = each_side(
    lambda side: Question(
        f"{side}_sweep",
        f"From under the center to the {side} bottom leg",
        LENGTH,
        "ft",
        "half sweep",
        chain=_CHAIN.name,
        of=lambda rig: None if rig.sweep is None else rig.sweep.half(side),
        stop="sweep",
        place=50,
    )
)


class NoSweep(Measure):
    """Whether there is no sweep."""

    key = "no_sweep"
    dimension = "flag"

    def read(self, rig: Rig) -> Readings | None:
        return [rig.sweep is None], ("sweep",)

    sheet = one("sweep", SWEEP, denied=True)


class SweepStock(Measure):
    """Of how thick a chain the sweep is."""

    key = "sweep_stock"
    dimension = "length"
    allowance = "diameter"
    chain = True
    scale = SoldChain()

    def read(self, rig: Rig) -> Readings | None:
        return NOTHING if rig.sweep is None else ([rig.sweep.diameter], ("sweep",))

    sheet = one("sweep", _CHAIN, absent=SWEEP)


class SweepBare(Measure):
    """Whether the sweep is bare chain."""

    key = "sweep_bare"
    dimension = "flag"

    def read(self, rig: Rig) -> Readings | None:
        return NOTHING if rig.sweep is None else ([rig.sweep.bare], ("sweep",))

    sheet = one(
        "sweep",
        Question(
            "sweep_bare",
            "Is the sweep all bare chain?",
            of=lambda rig: None if rig.sweep is None else rig.sweep.bare,
            stop="sweep",
            place=20,
        ),
        absent=SWEEP,
    )


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

    sheet = OnSheet(
        (
            Total(
                "sweep",
                (
                    (1, _HALF[PORT]),
                    (1, _HALF[STARBOARD]),
                    *((-factor, question) for factor, question in FOOTROPE),
                ),
            ),
        ),
        absent=SWEEP,
    )


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

    sheet = OnSheet(sides("side of the sweep", (1, _HALF), (-1, WING), (-0.5, BOSOM)), absent=SWEEP)


def _past_last(rig: Rig, side: str) -> float | None:
    """Return the sweep's length from its outermost dropper to the wing end."""
    values, _ = SweepWingExcess().read(rig) or NOTHING
    rope, excess = LAST[side].of(rig), values[SIDES.index(side)] if values else None
    return None if rope is None or excess is None or isinstance(excess, Between) else rope + excess


_PAST_LAST = each_side(
    lambda side: Question(
        f"{side}_sweep_last",
        "The same stretch along the sweep",
        LENGTH,
        "ft",
        "gap",
        help="From where that dropper meets the sweep to the wing end.",
        of=lambda rig: _past_last(rig, side),
        stop=f"{side}_wing",
        place=20,
    )
)


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

    sheet = OnSheet(sides("wing end", (1, _PAST_LAST), (-1, LAST)), absent=SWEEP)


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

    def doubts(self, rig: Rig) -> Iterable[Doubt]:
        if rig.sweep is None:
            return
        for side, sign in ((PORT, -1), (STARBOARD, 1)):
            half = rig.sweep.half(side)
            if half is None:
                continue
            past = tuple(
                each
                for each in rig.droppers or ()
                if each.sweep_position is not None and sign * each.sweep_position > half + PLAY
            )
            if past:
                yield Doubt(
                    f"{many(len(past), 'dropper')} joined to the sweep past its {side} end, "
                    f"which is {feet_inches(half)} from under the center.",
                    past,
                    "Check where it meets the sweep, or the length of that half.",
                )

    sheet = one(
        "the one that leans most",
        Question(
            "lean",
            "Worst lean of any dropper",
            LENGTH,
            "in",
            "offset",
            help="How much farther from the center one end is than the other. Measure the upper "
            "end along the footrope, the lower end along the sweep. 0 if all hang straight down.",
            picks=RIGHT_THERE,
            of=lambda rig: worst(SweepAttachment, rig, max),
            stop="droppers",
            place=50,
        ),
        absent=DROPPERS,
    )


class SweepJoinsLeg(Measure):
    """Whether sweep and footrope meet the bottom leg at one point."""

    key = "sweep_joins_leg"
    dimension = "flag"

    def read(self, rig: Rig) -> Readings | None:
        return NOTHING if rig.sweep is None else ([rig.sweep.joins_with_footrope], ("bottom leg",))

    sheet = one(
        "bottom leg",
        Question(
            "sweep_joins",
            "Do sweep and footrope meet the bottom leg at one point?",
            of=lambda rig: None if rig.sweep is None else rig.sweep.joins_with_footrope,
            stop="sweep",
            place=30,
        ),
        absent=SWEEP,
    )
