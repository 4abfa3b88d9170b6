"""Places on a rig put into words."""

from .gear import PORT, STARBOARD, Dropper, Float
from .units import feet_inches


def off_centre(position):
    """Return a signed place in metres as words: ``12 ft to port of the centre``."""
    if abs(position) < 1e-9:
        return "the centre"
    side = PORT if position < 0 else STARBOARD
    return f"{feet_inches(abs(position))} to {side} of the centre"


def place_text(spot):
    """
    Return a place from a reading as words.

    ``spot`` is a phrase, a Dropper, a Float, or a stretch of rope: (side, from,
    to) along a wing in metres from its corner, or ("headrope", from, to).
    """
    if isinstance(spot, str):
        return spot
    if isinstance(spot, Dropper):
        return f"dropper at {off_centre(spot.position)}"
    if isinstance(spot, Float):
        return f"float at {off_centre(spot.position)}"
    rope, start, end = spot
    if rope == "headrope":
        return f"headrope from {off_centre(start)} to {off_centre(end)}"
    return (
        f"{rope} wing, from {feet_inches(start) if start else 'the corner'} "
        f"to {feet_inches(end)} out from the corner"
    )
