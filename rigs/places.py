"""Places on a rig put into words."""

from .gear import PORT, STARBOARD, Float, GroundCable, Leg
from .units import feet_inches


def off_centre(position):
    """Return a signed place in metres as words: ``12 ft to port of the centre``."""
    if abs(position) < 1e-9:
        return "the centre"
    side = PORT if position < 0 else STARBOARD
    return f"{feet_inches(abs(position))} to {side} of the centre"


def place_text(spot):
    """
    Return a spot from a reading as words.

    ``spot`` is a phrase, a part of the rig, or a stretch of rope: (from, to) along
    the headrope, or (side, from, to, is it the last) along a wing in metres from its
    corner, None if nobody noted where.
    """
    if isinstance(spot, str):
        return spot
    if isinstance(spot, tuple):
        if len(spot) == 2:
            return f"headrope from {off_centre(spot[0])} to {off_centre(spot[1])}"
        side, start, end, is_last = spot
        if end is None:
            return f"{side} wing end" if is_last else f"{side} wing, widest gap"
        near = feet_inches(start) if start else "the corner"
        return f"{side} wing, from {near} to {feet_inches(end)} out from the corner"
    if isinstance(spot, Leg):
        return f"{spot.side} legs"
    if isinstance(spot, GroundCable):
        return f"{spot.side} ground cable"
    part = "float" if isinstance(spot, Float) else "dropper"
    return f"{part} at {off_centre(spot.position)}"
