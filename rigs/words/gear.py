"""
The words of the trade: a raised-footrope rig as plain frozen values.

Lengths and diameters are metres, masses kilograms. ``None`` stands for "not
measured" wherever a person may not have looked yet.

A place along the footrope, the headrope or the sweep is a signed distance from
its center: negative to port, positive to starboard.
"""

from dataclasses import dataclass, replace
from typing import Any, NamedTuple

PORT = "port"
STARBOARD = "starboard"
SIDES = (PORT, STARBOARD)

DIAMOND = "diamond"
SQUARE = "square"


@dataclass(frozen=True, slots=True)
class Headrope:
    """The rope along the upper edge of the net's mouth; ``length`` in metres."""

    length: float | None


@dataclass(frozen=True, slots=True)
class Footrope:
    """
    The rope along the lower edge of the net's mouth, laid flat.

    ``bosom`` is the middle part from corner to corner; each wing runs from its
    corner (the quarter, where the bottom wing meets the belly) to its wing end.
    ``off_bottom`` says whether the net is rigged to fly clear of the bottom.
    """

    bosom: float
    port_wing: float
    starboard_wing: float
    off_bottom: bool | None = True

    @property
    def length(self) -> float:
        return self.port_wing + self.bosom + self.starboard_wing

    @property
    def port_corner(self) -> float:
        return -self.bosom / 2

    @property
    def starboard_corner(self) -> float:
        return self.bosom / 2

    @property
    def port_end(self) -> float:
        return -self.bosom / 2 - self.port_wing

    @property
    def starboard_end(self) -> float:
        return self.bosom / 2 + self.starboard_wing

    def wing(self, side: str) -> float:
        """Return the length in metres of the wing on ``side``."""
        return self.port_wing if side == PORT else self.starboard_wing

    def corner(self, side: str) -> float:
        """Return the corner's place in metres from the center."""
        return self.port_corner if side == PORT else self.starboard_corner

    def end(self, side: str) -> float:
        """Return the wing end's place in metres from the center."""
        return self.port_end if side == PORT else self.starboard_end


@dataclass(frozen=True, slots=True)
class Dropper:
    """
    A drop chain hanging from the footrope.

    ``diameter`` is the nominal size of the chain's wire, ``count`` how many such
    chains hang side by side at this place (1 or 2), ``bare`` whether nothing is
    wrapped round, threaded on or hung from it. ``sweep_position`` is where its
    lower end meets the sweep, if there is one.
    """

    position: float
    length: float | None
    diameter: float | None
    count: int = 1
    bare: bool | None = True
    sweep_position: float | None = None


@dataclass(frozen=True, slots=True)
class Sweep:
    """
    A chain sweep under the footrope.

    ``port`` and ``starboard`` are the lengths of its two halves, from below the
    footrope's center to where each joins the bottom leg. ``joins_with_footrope``
    says whether sweep and footrope meet the bottom leg at the same point.
    """

    port: float | None
    starboard: float | None
    diameter: float | None
    bare: bool | None = True
    joins_with_footrope: bool | None = True

    def half(self, side: str) -> float | None:
        """Return the length in metres of the half on ``side``."""
        return self.port if side == PORT else self.starboard


@dataclass(frozen=True, slots=True)
class Float:
    """A headrope float; ``position`` from the headrope's center."""

    position: float
    diameter: float | None


@dataclass(frozen=True, slots=True)
class Leg:
    """The pair of wires on one side between the ground cable and the wing end."""

    side: str
    top_length: float | None
    bottom_length: float | None
    top_diameter: float | None
    bottom_diameter: float | None
    extended: bool | None = False
    bare_wire: bool | None = True


@dataclass(frozen=True, slots=True)
class GroundCable:
    """The wire on one side between the door and the legs."""

    side: str
    length: float | None
    diameter: float | None
    bare_wire: bool | None = True


@dataclass(frozen=True, slots=True)
class Codend:
    """
    The last part of the net, where the catch gathers.

    ``mesh`` is the mesh opening, the average of a row of meshes as 50 CFR 648.80(f)(2)
    has it measured; ``counted`` how far from the terminus that mesh runs, in meshes for
    diamond hanging and in bars for square. ``top_clear`` says whether nothing closes up
    the net's top half, ``mesh_clear`` whether no mesh is blocked and no bars twist around
    each other.
    """

    mesh: float | None
    counted: int | None
    hanging: str = DIAMOND
    top_clear: bool | None = True
    mesh_clear: bool | None = True


@dataclass(frozen=True, slots=True)
class Grate:
    """A rigid or semi-rigid sorting grate forward of the codend."""

    bar_gap: float | None
    width: float | None
    outlet_width: float | None
    stiff: bool | None = True
    ahead_of_codend: bool | None = True


class Noted(NamedTuple):
    """
    Something looked at of which no part of a rig has a field.

    ``what`` names it, ``is_so`` says whether it is as it should be, ``words`` what it is like.
    """

    what: str
    is_so: bool | None
    words: str = ""


@dataclass(frozen=True, slots=True)
class Rig:
    """
    A whole rig as built or as planned, from door to codend.

    An empty tuple of droppers or floats says that there are none; ``None`` that
    nobody has looked. ``vessel_length`` is the length of the vessel that tows
    the net, since some mesh rules turn on it. ``noted`` is what is to be told besides;
    all else is as it should be. None says that nobody has looked at more than the parts.
    """

    headrope: Headrope
    footrope: Footrope
    droppers: tuple[Dropper, ...] | None = ()
    floats: tuple[Float, ...] | None = ()
    legs: tuple[Leg, ...] = ()
    ground_cables: tuple[GroundCable, ...] = ()
    sweep: Sweep | None = None
    codend: Codend | None = None
    grate: Grate | None = None
    vessel_length: float | None = None
    noted: tuple[Noted, ...] | None = ()

    def is_noted(self, what: str) -> bool | None:
        """Return whether ``what`` no part has a field for is as it should be, None if unknown."""
        if self.noted is None:
            return None
        return next((each.is_so for each in self.noted if each.what == what), True)

    def with_(self, **changes: Any) -> "Rig":
        """Return a copy of the rig with the named parts replaced."""
        return replace(self, **changes)
