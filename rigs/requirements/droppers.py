"""The droppers: of what chain they are, how long, and where along the footrope they hang."""

from collections.abc import Iterable

from rigs.words import sizes
from rigs.words.gear import PORT, SIDES, STARBOARD, Rig
from rigs.words.units import INCH, feet_inches, inches

from .base import APART, Measure, worst
from .doubt import Doubt, beyond, many
from .questions import (
    LENGTH,
    RIGHT_THERE,
    OnSheet,
    Question,
    Total,
    all_so,
    each_side,
    one,
    sides,
)
from .readings import NOTHING, PLAY, Readings
from .spans import SoldChain, Steps


def places(rig: Rig) -> list[float]:
    """
    Return where droppers hang along the footrope, port to starboard, of a rig that has any noted.

    One beyond a wing end hangs on no part of the rope: it fills no gap.
    """
    found = sorted([each.position for each in rig.droppers or ()])
    rope = rig.footrope
    half = rope.bosom / 2
    if found and (found[0] < -half - rope.port_wing or found[-1] > half + rope.starboard_wing):
        first, last = rope.port_end, rope.starboard_end
        found = [
            max(first, min(last, place)) for place in found if first - PLAY <= place <= last + PLAY
        ]
    return found


DROPPERS = Question(
    "droppers",
    "Do droppers hang from the footrope?",
    of=lambda rig: None if rig.droppers is None else bool(rig.droppers),
    stop="droppers",
    place=10,
)
_CHAIN = Question(
    "dropper_chain",
    "Size of the thickest chain",
    LENGTH,
    "in",
    "chain",
    help="The size it is sold under.",
    picks=tuple(inches(size) for size in sizes.chains()),
    of=lambda rig: worst(DropperStock, rig, max),
    stop="droppers",
    place=30,
)


class DropperBare(Measure):
    """Whether the droppers are bare chain."""

    key = "dropper_bare"
    dimension = "flag"

    def read(self, rig: Rig) -> Readings | None:
        if rig.droppers is None:
            return None
        return [each.bare for each in rig.droppers], rig.droppers

    sheet = one(
        "droppers",
        Question(
            "dropper_bare",
            "Are they all bare chain?",
            of=lambda rig: all_so([each.bare for each in rig.droppers or ()]),
            stop="droppers",
            place=20,
        ),
        absent=DROPPERS,
    )


class DropperStock(Measure):
    """Of how thick a chain the droppers are."""

    key = "dropper_stock"
    dimension = "length"
    allowance = "diameter"
    chain = True
    scale = SoldChain()

    def read(self, rig: Rig) -> Readings | None:
        if rig.droppers is None:
            return None
        return [each.diameter for each in rig.droppers], rig.droppers

    sheet = one("thickest dropper", _CHAIN, absent=DROPPERS)


class DropperLength(Measure):
    """How long the droppers are."""

    key = "dropper_length"
    dimension = "length"
    allowance = "length"
    scale = Steps(INCH / 2, 6)

    def read(self, rig: Rig) -> Readings | None:
        if rig.droppers is None:
            return None
        return [each.length for each in rig.droppers], rig.droppers

    sheet = one(
        "shortest dropper",
        Question(
            "dropper_length",
            "Shortest dropper",
            LENGTH,
            "in",
            "dropper",
            help="Along the chain. If you count links, we use the longest link that the chain "
            "standard allows (from memory). Measure if it is close.",
            chain=_CHAIN.name,
            of=lambda rig: worst(DropperLength, rig, min),
            stop="droppers",
            place=40,
        ),
        absent=DROPPERS,
    )


class DropperAtCenter(Measure):
    """How far the nearest dropper hangs from the footrope's center."""

    key = "dropper_at_centre"
    dimension = "length"
    allowance = "length"
    missing_fails = True
    zero = APART
    scale = Steps(INCH, 4)

    def read(self, rig: Rig) -> Readings | None:
        if rig.droppers is None:
            return None
        hung = places(rig)
        if not hung:
            return NOTHING
        return [min([abs(place) for place in hung])], ("center",)

    sheet = one(
        "center",
        Question(
            "center_off",
            "From the center to the nearest dropper",
            LENGTH,
            "in",
            "offset",
            help="0 if one hangs right at it.",
            picks=RIGHT_THERE,
            of=lambda rig: worst(DropperAtCenter, rig, min),
            stop="center",
            place=10,
        ),
        absent=DROPPERS,
    )


def _off_corner(rig: Rig, side: str) -> float | None:
    values, _ = DropperAtCorners().read(rig) or NOTHING
    return values[SIDES.index(side)] if values else None


class DropperAtCorners(Measure):
    """How far the nearest dropper hangs from each corner."""

    key = "dropper_at_corners"
    dimension = "length"
    allowance = "length"
    missing_fails = True
    zero = APART
    scale = Steps(INCH, 4)

    def read(self, rig: Rig) -> Readings | None:
        if rig.droppers is None:
            return None
        hung = places(rig)
        if not hung:
            return NOTHING
        half = rig.footrope.bosom / 2
        return (
            [
                min([abs(place + half) for place in hung]),
                min([abs(place - half) for place in hung]),
            ],
            ("port corner", "starboard corner"),
        )

    sheet = OnSheet(
        sides(
            "corner",
            (
                1,
                each_side(
                    lambda side: Question(
                        f"{side}_corner_off",
                        "From the corner to the nearest dropper",
                        LENGTH,
                        "in",
                        "offset",
                        help="0 if one hangs right at it.",
                        picks=RIGHT_THERE,
                        of=lambda rig: _off_corner(rig, side),
                        stop=f"{side}_corner",
                        place=10,
                    )
                ),
            ),
        ),
        absent=DROPPERS,
    )


def _gaps(rig: Rig, side: str) -> list[tuple[float, bool]]:
    """Return the gaps of a wing in metres, and whether each is the last; none if unknown."""
    values, spots = DropperSpacing().read(rig) or NOTHING
    return [(gap, spot[3]) for gap, spot in zip(values, spots, strict=True) if spot[0] == side]


LAST = each_side(
    lambda side: Question(
        f"{side}_last",
        "Wing end to the nearest dropper",
        LENGTH,
        "ft",
        "gap",
        help="Along the footrope. If none hangs on the wing, to the corner.",
        of=lambda rig: next((gap for gap, is_last in _gaps(rig, side) if is_last), None),
        stop=f"{side}_wing",
        place=10,
    )
)
_GAP = each_side(
    lambda side: Question(
        f"{side}_gap",
        "Widest gap on this wing",
        LENGTH,
        "ft",
        "gap",
        help="From the corner out to the wing end. Count the stretch to the wing end too.",
        of=lambda rig: max((gap for gap, _ in _gaps(rig, side)), default=None),
        stop=f"{side}_wing",
        place=30,
    )
)


class DropperSpacing(Measure):
    """How far apart the droppers of a wing hang, and from its end."""

    key = "dropper_spacing"
    dimension = "length"
    allowance = "length"
    missing_fails = True
    scale = Steps(INCH, 12)

    def read(self, rig: Rig) -> Readings | None:
        """
        Return the gaps along each wing from the corner outwards, the last one to the wing end.

        The spot of a wing's last gap ends in True: what is left beyond the last dropper
        must be less than a whole interval, not merely no more than one.
        """
        if rig.droppers is None:
            return None
        rope = rig.footrope
        half = rope.bosom / 2
        hung = places(rig)
        values = []
        spots = []
        for side, wing, outward in (
            (PORT, rope.port_wing, [-place - half for place in reversed(hung)]),
            (STARBOARD, rope.starboard_wing, [place - half for place in hung]),
        ):
            last = 0.0
            for out in outward:
                if out > 0:
                    values.append(out - last)
                    spots.append((side, last, out, False))
                    last = out
            values.append(wing - last)
            spots.append((side, last, wing, True))
        return values, spots

    def doubts(self, rig: Rig) -> Iterable[Doubt]:
        for side in SIDES:
            end = abs(rig.footrope.end(side))
            if past := beyond(rig.droppers or (), side, end):
                yield Doubt(
                    f"{many(len(past), 'dropper')} past the {side} wing end, "
                    f"which is {feet_inches(end)} from the center.",
                    past,
                    "Check the place, or the lengths of bosom and wing. It counts for no gap.",
                )

    # Where on its wing a gap begins was not noted.
    sheet = OnSheet(
        tuple(
            Total((side, None, None, is_last), ((1, asked[side]),))
            for side in SIDES
            for asked, is_last in ((_GAP, False), (LAST, True))
        )
    )
