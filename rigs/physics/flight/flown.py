"""A net in flight: where its footrope is, and what that does to its droppers."""

from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

import numpy as np

from rigs.words.gear import PORT, STARBOARD, Dropper, Rig
from rigs.words.say import gettext as _
from rigs.words.say import gettext_lazy
from rigs.words.units import INCH

from . import droppers
from .bars import Figures
from .built import PAGE, Built, Grid, between, build
from .carried import carried
from .laid import Cut
from .solve import NotAtRest, Rest, settle
from .unknowns import Guess

PORT_END, PORT_CORNER = gettext_lazy("port wing end"), gettext_lazy("port corner")
CENTER = gettext_lazy("center")
STARBOARD_CORNER, STARBOARD_END = (
    gettext_lazy("starboard corner"),
    gettext_lazy("starboard wing end"),
)
POINTS = (PORT_END, PORT_CORNER, CENTER, STARBOARD_CORNER, STARBOARD_END)
"""The places at which flight is told, port to starboard."""

LYING = INCH / 4
"""A footrope no higher than this lies on the bottom: a state, and no height."""
SHUT = 0.3
"""Metres: with its headrope no higher above the footrope a net is shut, and what is worked out of
it says nothing. A choice, no source."""
CLOSED = gettext_lazy(
    "The mouth would close: the headrope sinks onto the footrope. Flight says nothing of that."
)
_ALIKE = 1e-3  # metres by which two sides may differ and be one


class Point(NamedTuple):
    """The footrope at one of POINTS: ``position`` from its center and ``up``, metres."""

    name: str
    position: float
    up: float

    @property
    def lies(self) -> bool:
        """Whether it lies on the bottom there."""
        return self.up <= LYING


class Trailing(NamedTuple):
    """
    A dropper in flight; metres. ``up`` is the footrope's height where it hangs.

    ``shine`` is what of it drags on the bottom; ``clear`` says that it hangs free of it.
    """

    dropper: Dropper
    up: float
    shine: float
    clear: bool


def positions(rig: Rig) -> tuple[float, ...]:
    """Return the places of POINTS along the footrope of ``rig``, metres from its center."""
    rope = rig.footrope
    return (rope.port_end, rope.port_corner, 0.0, rope.starboard_corner, rope.starboard_end)


def is_alike(rig: Rig) -> bool:
    """Return whether both sides of ``rig`` are alike, so that half of it tells all."""
    return _side(rig, PORT) == _side(rig, STARBOARD)


def _side(rig: Rig, side: str) -> tuple[object, ...]:
    sign = -1 if side == PORT else 1

    def near(value: float | None) -> float | None:
        return None if value is None else round(value / _ALIKE)

    hung = [each for each in rig.droppers or () if each.position * sign > _ALIKE]
    floats = [each for each in rig.floats or () if each.position * sign > _ALIKE]
    legs = [each for each in rig.legs if each.side == side]
    cables = [each for each in rig.ground_cables if each.side == side]
    return (
        near(rig.footrope.wing(side)),
        sorted(
            (near(abs(each.position)), near(each.length), each.diameter, each.count)
            for each in hung
        ),
        sorted((near(abs(each.position)), each.diameter) for each in floats),
        [
            (near(leg.top_length), near(leg.bottom_length), leg.top_diameter, leg.bottom_diameter)
            for leg in legs
        ],
        [(near(cable.length), cable.diameter) for cable in cables],
        near(rig.sweep.half(side)) if rig.sweep else None,
    )


@dataclass(frozen=True)
class Flown:
    """``rig`` in steady tow by ``guess``: its nodes ``built`` and where they came to ``rest``."""

    rig: Rig
    guess: Guess
    built: Built
    rest: Rest

    @property
    def at(self) -> Figures:
        """The places of all nodes (nodes, 3): metres aft, to starboard, up."""
        return self.rest.at

    def up(self, position: float) -> float:
        """Return the footrope's height in metres at ``position`` from its center."""
        return sum(share * max(0.0, float(self.at[node, 2])) for node, share in self.near(position))

    def near(self, position: float) -> list[tuple[int, float]]:
        """Return the nodes of the footrope about ``position``, with their shares."""
        side = PORT if position < 0 and not self.built.half else STARBOARD
        rope = self.built.foot[side]
        return between(rope, abs(position))

    @cached_property
    def points(self) -> tuple[Point, ...]:
        """The footrope at POINTS, port to starboard."""
        return tuple(
            Point(name, position, self.up(position))
            for name, position in zip(POINTS, positions(self.rig), strict=True)
        )

    @cached_property
    def trailing(self) -> tuple[Trailing, ...]:
        """The droppers that hang free of a sweep, port to starboard; none with one."""
        if self.rig.sweep is not None:
            return ()
        found = []
        for each in sorted(self.rig.droppers or (), key=lambda each: each.position):
            up = self.up(each.position)
            assert each.diameter is not None
            assert each.length is not None
            shines = droppers.table(
                each.diameter, each.length, self.guess.speed, self.guess.friction
            ).shine
            shine = float(np.interp(up, droppers.heights(), shines))
            found.append(Trailing(each, up, shine, shine <= 0.0))
        return tuple(found)

    def is_clear(self, position: float) -> bool:
        """Return whether the droppers nearest to ``position`` hang clear of the bottom."""
        if not self.trailing:
            return False
        near = min(self.trailing, key=lambda each: abs(each.dropper.position - position))
        return near.clear

    @property
    def mouth(self) -> float:
        """How far the headrope is above the footrope at the center, in metres."""
        head = self.built.head[STARBOARD][0][1]
        return float(self.at[head, 2]) - self.up(0.0)

    def rope(self, part: str) -> Figures:
        """Return the nodes of ``head`` or ``foot`` from the port wing end to starboard's."""
        ropes = getattr(self.built, part)
        return self.both([node for __, node in ropes[STARBOARD]], ropes.get(PORT))

    def both(self, starboard: list[int], port: list[tuple[float, int]] | None) -> Figures:
        """Return places port to starboard of a line that begins at the center."""
        right = self.at[starboard]
        left = right * np.array([1, -1, 1]) if port is None else self.at[[n for __, n in port]]
        return np.concatenate([left[:0:-1], right])


def missing(rig: Rig) -> tuple[str, ...]:
    """Return what has to be measured on ``rig`` before it can fly, in words; none if nothing."""
    droppers_known = rig.droppers is not None and (
        rig.sweep is not None
        or all(each.length is not None and each.diameter is not None for each in rig.droppers)
    )
    floats_known = rig.floats is not None and all(each.diameter is not None for each in rig.floats)
    asked = (
        (rig.headrope.length is not None, _("the length of the headrope")),
        (floats_known, _("how many floats there are, and their size")),
        (droppers_known, _("where the droppers hang, their length and their chain")),
    )
    return tuple(words for known, words in asked if not known)


def fly(
    rig: Rig,
    guess: Guess,
    cut: Cut,
    grid: Grid = PAGE,
    start: Flown | None = None,
) -> Flown:
    """
    Return ``rig`` as Flown by ``guess``, with netting as it was ``cut``.

    ``start`` is a flight of nearly the same net to start from. Raise ValueError, in words, for
    what has to be measured first; KeyError for chain that nobody sells; solve.NotAtRest if no
    equilibrium is found, or if the mouth closes.
    """
    lacking = missing(rig)
    if lacking:
        raise ValueError(_("Enter first: {lacking}.").format(lacking=_(", and ").join(lacking)))
    built = build(rig, guess, cut, grid, half=is_alike(rig))
    if start is None:
        flown = Flown(rig, guess, built, settle(built.system, built.start))
    else:
        at = carried(start.built, start.at, built)
        flown = Flown(rig, guess, built, settle(built.system, at, cold=False))
    if flown.mouth < SHUT:
        raise NotAtRest(CLOSED)
    return flown
