"""The floats along the headrope."""

from rigs.words.gear import Rig
from rigs.words.units import INCH

from .base import Measure
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
