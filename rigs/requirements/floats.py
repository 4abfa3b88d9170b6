"""The floats along the headrope."""

from collections.abc import Iterable

from rigs.words import sizes
from rigs.words.gear import SIDES, Rig
from rigs.words.units import INCH, feet_inches, inches

from .base import Measure, worst
from .doubt import Doubt, beyond, many
from .questions import LENGTH, Question, one
from .readings import PLAY, Readings
from .spans import Steps


class FloatDiameter(Measure):
    """How big the floats are."""

    key = "float_diameter"
    dimension = "length"
    allowance = "diameter"
    scale = Steps(INCH / 2, 2)

    def read(self, rig: Rig) -> Readings | None:
        if rig.floats is None:
            return None
        return [each.diameter for each in rig.floats], rig.floats

    sheet = one(
        "smallest float",
        Question(
            "float_size",
            "Smallest float, across",
            LENGTH,
            "in",
            "float",
            picks=tuple(inches(size) for size in sizes.floats()),
            of=lambda rig: worst(FloatDiameter, rig, min),
            stop="headrope",
            place=20,
        ),
    )


class FloatSpacing(Measure):
    """How far apart the floats are, and from the ends of the headrope."""

    key = "float_spacing"
    dimension = "length"
    allowance = "length"
    missing_fails = True
    scale = Steps(INCH, 12)

    def read(self, rig: Rig) -> Readings | None:
        if rig.floats is None or rig.headrope.length is None:
            return None
        half = rig.headrope.length / 2
        places = sorted([each.position for each in rig.floats])
        if places and (places[0] < -half or places[-1] > half):
            # At its end if just past it; farther out a float is on no part of the rope.
            places = [max(-half, min(half, place)) for place in places if abs(place) <= half + PLAY]
        if not places:
            return [rig.headrope.length], ("whole headrope",)
        stops = [-half, *places, half]
        pairs = list(zip(stops, stops[1:], strict=False))
        return [b - a for a, b in pairs], pairs

    def doubts(self, rig: Rig) -> Iterable[Doubt]:
        if rig.headrope.length is None:
            return
        half = rig.headrope.length / 2
        for side in SIDES:
            if past := beyond(rig.floats or (), side, half):
                yield Doubt(
                    f"{many(len(past), 'float')} past the {side} end of the headrope, "
                    f"which is {feet_inches(half)} from its center.",
                    past,
                    "Check the place, or the length of the headrope. It counts for no gap.",
                )

    sheet = one(
        "widest gap between floats",
        Question(
            "float_gap",
            "Widest gap between floats",
            LENGTH,
            "ft",
            "float gap",
            help="Middle to middle, and from the last float to the wing end.",
            of=lambda rig: worst(FloatSpacing, rig, max),
            stop="headrope",
            place=30,
        ),
    )
