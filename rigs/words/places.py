"""Places on a rig put into words."""

from typing import NamedTuple

from .gear import PORT, STARBOARD, Dropper, Float, GroundCable, Leg
from .say import gettext as _
from .units import feet_inches

Stretch = tuple[float, float]
"""From where to where along the headrope, in metres from its center."""

WingStretch = tuple[str, float | None, float | None, bool]
"""(side, from, to, is it the last), in metres from the corner; None if nobody noted where."""


class Listed(NamedTuple):
    """One of several that were listed: ``what`` says which, by its holes ``at`` and ``of``."""

    what: str
    at: int
    of: int
    is_last: bool = False  # where a WingStretch has it


Spot = str | Stretch | WingStretch | Listed | Dropper | Float | GroundCable | Leg
"""Where on a rig something was measured."""


def off_center(position: float) -> str:
    """Return a signed place in metres as words: ``12 ft to port of the center``."""
    if abs(position) < 1e-9:
        return _("the center")
    side = PORT if position < 0 else STARBOARD
    return _("{feet_inches} to {side} of the center").format(
        feet_inches=feet_inches(abs(position)), side=side
    )


def _stretch(start: float, end: float) -> str:
    """Return the stretch between two signed places: ``between 4 ft and 8 ft to port of ...``."""
    if start * end <= 0:
        return _("between {off_center} and {off_center2}").format(
            off_center=off_center(start), off_center2=off_center(end)
        )
    near, far = sorted((start, end), key=abs)
    return _("between {feet_inches} and {off_center}").format(
        feet_inches=feet_inches(abs(near)), off_center=off_center(far)
    )


def place_text(spot: Spot) -> str:
    """
    Return a spot from a reading as words.

    ``spot`` is a phrase, a part of the rig, or a stretch of rope.
    """
    if isinstance(spot, str):
        return str(spot)
    if isinstance(spot, Listed):
        return spot.what.format(at=spot.at, of=spot.of)
    if isinstance(spot, tuple):
        if len(spot) == 2:
            return _("headrope, {stretch}").format(stretch=_stretch(*spot))
        side, start, end, is_last = spot
        if start is None or end is None:
            return (
                _("{side} wing end").format(side=side)
                if is_last
                else _("{side} wing, widest gap").format(side=side)
            )
        if is_last:
            near = (
                _("{feet_inches} out from the corner").format(feet_inches=feet_inches(start))
                if start
                else _("the corner")
            )
            return _("{side} wing, from {near} to the wing end").format(side=side, near=near)
        near = feet_inches(start) if start else _("the corner")
        return _("{side} wing, from {near} to {feet_inches} out from the corner").format(
            side=side, near=near, feet_inches=feet_inches(end)
        )
    if isinstance(spot, Leg):
        return _("{side} legs").format(side=spot.side)
    if isinstance(spot, GroundCable):
        return _("{side} ground cable").format(side=spot.side)
    part = "float" if isinstance(spot, Float) else "dropper"
    return f"{part} at {off_center(spot.position)}"
