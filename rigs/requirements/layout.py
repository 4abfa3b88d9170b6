"""Where droppers and floats go, and how many."""

from math import ceil, floor
from typing import NamedTuple

from rigs.words.gear import PORT, STARBOARD, Dropper, Float, Footrope, Headrope
from rigs.words.say import gettext as _
from rigs.words.units import ROUNDING, feet_inches

from .making import Rules, there


class Place(NamedTuple):
    """A place for a dropper: metres from the center, and its name on deck."""

    position: float
    name: str


def wing_positions(wing_length: float, interval: float) -> tuple[float, ...]:
    """
    Return the distances in metres from the corner at which a wing needs droppers.

    One goes at every full ``interval`` from the corner outwards, so a wing whose
    length is an exact multiple has its last dropper at the wing end, and on any
    other wing the remainder, less than a whole interval, is left at the wing end.
    """
    count = floor(wing_length / interval + ROUNDING)
    return tuple(interval * i for i in range(1, count + 1))


def remainder(wing_length: float, interval: float) -> float:
    """Return the metres left between a wing's last dropper and its wing end."""
    placed = wing_positions(wing_length, interval)
    return max(0.0, wing_length - (placed[-1] if placed else 0.0))


def dropper_places(footrope: Footrope, rulebook: Rules) -> tuple[Place, ...]:
    """
    Return the fewest places for droppers that ``rulebook`` allows, port to starboard.

    Each wing is laid out from its own corner, whatever the other's length.
    """
    interval = rulebook.requirement("dropper_spacing").limit
    places = [Place(0.0, "center")]
    for side, sign in ((PORT, -1), (STARBOARD, 1)):
        corner = footrope.corner(side)
        places.append(Place(corner, _("{side} corner").format(side=side)))
        for out in wing_positions(footrope.wing(side), interval):
            at_end = abs(out - footrope.wing(side)) <= ROUNDING
            where = (
                _("wing end")
                if at_end
                else _("wing, {feet_inches} from the corner").format(feet_inches=feet_inches(out))
            )
            places.append(Place(corner + sign * out, f"{side} {where}"))
    return tuple(sorted(places))


def droppers(
    footrope: Footrope, rulebook: Rules, length: float, diameter: float, count: int = 1
) -> tuple[Dropper, ...]:
    """
    Return droppers at every required place, all of one make.

    ``length`` and ``diameter`` in metres; ``count`` chains hang at each place.
    """
    return tuple(
        Dropper(place.position, length, diameter, count)
        for place in dropper_places(footrope, rulebook)
    )


def float_positions(headrope_length: float, rulebook: Rules) -> tuple[float, ...]:
    """
    Return where floats go, in metres from the headrope's center, port to starboard.

    The fewest evenly spaced floats with one at each end of the headrope and no
    gap over the limit.
    """
    gaps = max(1, ceil(headrope_length / rulebook.requirement("float_spacing").limit - ROUNDING))
    return tuple(headrope_length * (i / gaps - 0.5) for i in range(gaps + 1))


def floats(headrope: Headrope, rulebook: Rules, diameter: float) -> tuple[Float, ...]:
    """Return floats of ``diameter`` metres along the whole headrope."""
    return tuple(Float(at, diameter) for at in float_positions(there(headrope.length), rulebook))
