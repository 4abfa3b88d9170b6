"""Places on a rig put into words."""

from .gear import PORT, STARBOARD, Dropper, Float, GroundCable, Leg
from .units import feet_inches

Stretch = tuple[float, float]
"""From where to where along the headrope, in metres from its center."""

WingStretch = tuple[str, float | None, float | None, bool]
"""(side, from, to, is it the last), in metres from the corner; None if nobody noted where."""

Spot = str | Stretch | WingStretch | Dropper | Float | GroundCable | Leg
"""Where on a rig something was measured."""


def off_center(position: float) -> str:
    """Return a signed place in metres as words: ``12 ft to port of the center``."""
    if abs(position) < 1e-9:
        return "the center"
    side = PORT if position < 0 else STARBOARD
    return f"{feet_inches(abs(position))} to {side} of the center"


def _stretch(start: float, end: float) -> str:
    """Return the stretch between two signed places: ``between 4 ft and 8 ft to port of ...``."""
    if start * end <= 0:
        return f"between {off_center(start)} and {off_center(end)}"
    near, far = sorted((start, end), key=abs)
    return f"between {feet_inches(abs(near))} and {off_center(far)}"


def place_text(spot: Spot) -> str:
    """
    Return a spot from a reading as words.

    ``spot`` is a phrase, a part of the rig, or a stretch of rope.
    """
    if isinstance(spot, str):
        return "center" if spot == "center" else spot
    if isinstance(spot, tuple):
        if len(spot) == 2:
            return f"headrope, {_stretch(*spot)}"
        side, start, end, is_last = spot
        if start is None or end is None:
            return f"{side} wing end" if is_last else f"{side} wing, widest gap"
        if is_last:
            near = f"{feet_inches(start)} out from the corner" if start else "the corner"
            return f"{side} wing, from {near} to the wing end"
        near = feet_inches(start) if start else "the corner"
        return f"{side} wing, from {near} to {feet_inches(end)} out from the corner"
    if isinstance(spot, Leg):
        return f"{spot.side} legs"
    if isinstance(spot, GroundCable):
        return f"{spot.side} ground cable"
    part = "float" if isinstance(spot, Float) else "dropper"
    return f"{part} at {off_center(spot.position)}"
