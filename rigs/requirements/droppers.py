"""The droppers: of what chain they are, how long, and where along the footrope they hang."""

from rigs.words.gear import PORT, STARBOARD, Rig
from rigs.words.units import INCH

from .base import APART, Measure
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


class DropperBare(Measure):
    """Whether the droppers are bare chain."""

    key = "dropper_bare"
    dimension = "flag"

    def read(self, rig: Rig) -> Readings | None:
        if rig.droppers is None:
            return None
        return [each.bare for each in rig.droppers], rig.droppers


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
