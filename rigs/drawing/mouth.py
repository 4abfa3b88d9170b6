"""
The mouth of the net laid flat, as a curve on which distances are true.

Metres, x to starboard and y ahead, the middle of the footrope at the origin. The
bosom is an arc of a circle and each wing goes straight on from its corner, so a
place's distance along the rope is its distance along the curve.
"""

from bisect import bisect_left
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from math import cos, hypot, radians, sin

from rigs.words.gear import Footrope

from .scene import XY

SPREAD = radians(62)
"""How far a wing is turned from athwartships, for the look of it only."""

_STEPS = 24
_HALVINGS = 34
_DEEPEST = 1e3  # a mouth that lies all but straight cannot be deepened for ever


def _run(points: Iterable[XY]) -> float:
    return sum(hypot(x2 - x1, y2 - y1) for (x1, y1), (x2, y2) in pairwise(points))


@dataclass(frozen=True)
class Mouth:
    """The flat outline of the mouth that ``footrope`` makes."""

    footrope: Footrope

    @cached_property
    def radius(self) -> float:
        return max(self.footrope.bosom, 1e-6) / (2 * SPREAD)

    def _turn(self, position: float) -> float:
        half = self.footrope.bosom / 2
        return min(max(position, -half), half) / self.radius

    def point(self, position: float) -> XY:
        """Return (x, y) of the place ``position`` metres along from the center."""
        turn = self._turn(position)
        beyond = position - turn * self.radius
        return (
            self.radius * sin(turn) + beyond * cos(turn),
            self.radius * (1 - cos(turn)) + beyond * sin(turn),
        )

    def outward(self, position: float) -> XY:
        """Return the unit vector that points square away from the mouth's inside."""
        turn = self._turn(position)
        return sin(turn), -cos(turn)

    def stretch(self, start: float, end: float) -> tuple[XY, ...]:
        """Return points along the footrope from ``start`` to ``end``, both included."""
        corners = (self.footrope.port_corner, self.footrope.starboard_corner)
        stops = [start + (end - start) * i / _STEPS for i in range(_STEPS + 1)]
        stops += [c for c in corners if min(start, end) < c < max(start, end)]
        return tuple(self.point(at) for at in sorted(stops))

    @cached_property
    def outline(self) -> tuple[XY, ...]:
        """Points along the whole footrope, port to starboard."""
        rope = self.footrope
        return (
            self.point(rope.port_end),
            *self.stretch(rope.port_corner, rope.starboard_corner),
            self.point(rope.starboard_end),
        )

    def headrope(self, length: float) -> "HeadropeCurve":
        """
        Return the HeadropeCurve of ``length`` metres between the two wing ends.

        A headrope shorter than the footrope lies ahead of it, a longer one behind.
        """
        flat = self._drawn_in(0.0)
        if length <= _run(flat):
            # Too short to reach both wing ends: drawn straight, and to its own scale.
            return HeadropeCurve(flat, length)
        pieces = [
            (x2 - x1, y2 - y1, (v2 - v1) - (y2 - y1))
            for ((x1, y1), (x2, y2)), ((_, v1), (_, v2)) in zip(
                pairwise(flat), pairwise(self.outline), strict=True
            )
        ]

        def run(share: float) -> float:
            return sum(hypot(dx, dy + share * more) for dx, dy, more in pieces)

        low, high = 0.0, 1.0
        while run(high) < length and high < _DEEPEST:
            high *= 2
        for _ in range(_HALVINGS):
            middle = (low + high) / 2
            if run(middle) < length:
                low = middle
            else:
                high = middle
        return HeadropeCurve(self._drawn_in(high), length)

    def _drawn_in(self, share: float) -> tuple[XY, ...]:
        """Return the outline drawn in to ``share`` of its depth behind the wing ends."""
        (x1, y1), (x2, y2) = self.outline[0], self.outline[-1]
        rise = (y2 - y1) / (x2 - x1) if x2 > x1 else 0.0
        return tuple(
            (x, y1 + rise * (x - x1) + share * (y - y1 - rise * (x - x1))) for x, y in self.outline
        )


@dataclass(frozen=True)
class HeadropeCurve:
    """A headrope of ``length`` metres drawn through ``points``."""

    points: tuple[XY, ...]
    length: float

    @cached_property
    def _marks(self) -> list[float]:
        marks = [0.0]
        for (x1, y1), (x2, y2) in pairwise(self.points):
            marks.append(marks[-1] + hypot(x2 - x1, y2 - y1))
        return marks

    def point(self, position: float) -> XY:
        """Return (x, y) of the place ``position`` metres along from its center."""
        share = min(max(position / self.length + 0.5, 0.0), 1.0) if self.length else 0.5
        run = share * self._marks[-1]
        i = min(max(bisect_left(self._marks, run), 1), len(self._marks) - 1)
        (x1, y1), (x2, y2) = self.points[i - 1], self.points[i]
        part = self._marks[i] - self._marks[i - 1]
        t = (run - self._marks[i - 1]) / part if part else 0.0
        return x1 + (x2 - x1) * t, y1 + (y2 - y1) * t

    def stretch(self, start: float, end: float) -> tuple[XY, ...]:
        """Return points along the headrope from ``start`` to ``end``, both included."""
        return tuple(self.point(start + (end - start) * i / _STEPS) for i in range(_STEPS + 1))
