"""
A net laid out: the edge of its mouth as stations, and the netting behind it in meshes.

The mouth's edge runs from the headrope's center along the headrope to the starboard wing
end, down the wing end and back along the footrope to its center; for a whole net on to
port and back. From each station a line of netting runs aft to where the codend begins. In
the netting's own plane, stretched, a place is metres across (U) and metres forward of the
codend (V); twines lie there on the diagonals. Wings are cut along bars, so that a rope hung
on them is as long as the bars are.
"""

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from rigs.words.gear import PORT, SIDES, STARBOARD, Rig
from rigs.words.say import gettext as _

from .unknowns import Guess

HEAD, WING_END, FOOT = "headrope", "wing-end", "footrope"
_SAME = 1e-6


@dataclass(frozen=True, slots=True)
class Cut:
    """
    The netting as it was cut: stretched metres.

    ``bosoms`` and ``wings`` are what headrope and footrope, in this order, were when the
    netting was hung on them; ``deep`` is how far the lower bosom lies from the codend,
    ``wing_end`` how wide each panel is at the wing end, ``across`` how wide a panel is at
    the codend.
    """

    head_bosom: float
    head_wings: dict[str, float]
    foot_bosom: float
    foot_wings: dict[str, float]
    hanging: float
    deep: float
    wing_end: float
    codend: float

    @classmethod
    def typical(cls, rig: Rig, guess: Guess) -> "Cut":
        """Return a typical small-mesh net scaled to the ropes of ``rig``: an assumption."""
        foot = rig.footrope
        head = rig.headrope.length
        if head is None:
            head = foot.length * 0.9
        bosom = foot.bosom * min(1.0, head / foot.length)
        both = foot.port_wing + foot.starboard_wing
        if both <= 0:
            raise ValueError(_("A footrope without wings cannot be flown here. Check the wings."))
        wings = {side: (head - bosom) * foot.wing(side) / both for side in SIDES}
        return cls(
            head_bosom=bosom,
            head_wings=wings,
            foot_bosom=foot.bosom,
            foot_wings={side: foot.wing(side) for side in SIDES},
            hanging=guess.hanging,
            deep=guess.body * foot.length,
            wing_end=guess.wing_end * foot.length,
            codend=0.06 * foot.length,
        )

    def front(self, side: str) -> float:
        """Return how far the wing end on ``side`` lies from the codend."""
        return self.deep + self.foot_wings[side]

    def seam(self, side: str, lower: bool) -> float:
        """Return how far out the seam meets the wing end on ``side``, in a panel's own plane."""
        bosom, wings = (
            (self.foot_bosom, self.foot_wings) if lower else (self.head_bosom, self.head_wings)
        )
        return bosom / 2 / self.hanging + wings[side] + self.wing_end

    def edge(self, out: float, side: str, lower: bool) -> tuple[float, float]:
        """Return (U, V) of the netting hung ``out`` metres along the rope from its center."""
        bosom, wings = (
            (self.foot_bosom, self.foot_wings) if lower else (self.head_bosom, self.head_wings)
        )
        wing = max(0.0, out - bosom / 2)
        across = min(out, bosom / 2) / self.hanging + wing
        return across, self.front(side) - wings[side] + wing


class Station(NamedTuple):
    """
    A place on the mouth's edge.

    ``part`` is HEAD, WING_END or FOOT, ``side`` port or starboard (starboard at the center),
    ``out`` metres along the rope from its center or, at a wing end, from the headrope down
    as a share. ``upper`` and ``lower`` are (U, V) in each panel, None where it is not of it.
    """

    part: str
    side: str
    out: float
    upper: tuple[float, float] | None
    lower: tuple[float, float] | None


def _steps(stops: list[float], longest: float) -> list[float]:
    """Return ``stops``, ascending, with even steps of at most ``longest`` between them."""
    found = [stops[0]]
    for start, end in zip(stops, stops[1:], strict=False):
        count = max(1, int(np.ceil((end - start) / longest - _SAME)))
        found += [start + (end - start) * (i + 1) / count for i in range(count)]
    return found


def _stops(*places: float) -> list[float]:
    """Return ``places`` in order, those that are one to a millimetre or so once."""
    found: list[float] = []
    for place in sorted(places):
        if not found or place - found[-1] > 2e-2:
            found.append(place)
    return found


def stations(rig: Rig, cut: Cut, longest: float, *, half: bool) -> list[Station]:
    """
    Return the Stations of the mouth's edge, from the headrope's center around.

    At the bosom's corners and wherever a dropper hangs stands one; between them none is
    farther than ``longest`` metres from the next. With ``half`` only starboard is there.
    """
    starboard = _one_side(rig, cut, STARBOARD, longest)
    if half:
        return starboard
    port = _one_side(rig, cut, PORT, longest)
    return [*starboard, *port[-2:0:-1]]


def _one_side(rig: Rig, cut: Cut, side: str, longest: float) -> list[Station]:
    sign = -1 if side == PORT else 1
    head_long, foot_long = netted(rig, cut, side)
    head = _steps(_stops(0.0, min(cut.head_bosom / 2, head_long), head_long), longest)
    hung = [abs(each.position) for each in rig.droppers or () if each.position * sign >= -_SAME]
    inside = [out for out in hung if out < foot_long - 2e-2]
    foot = _steps(_stops(0.0, cut.foot_bosom / 2, *inside, foot_long), longest)
    found = [
        Station(HEAD, side, out, _edge(cut, out, side, sign, lower=False, long=head_long), None)
        for out in head[:-1]
    ]
    found += _wing_end(cut, side, sign)
    found += [
        Station(FOOT, side, out, None, _edge(cut, out, side, sign, lower=True, long=foot_long))
        for out in foot[-2::-1]
    ]
    return found


def netted(rig: Rig, cut: Cut, side: str) -> tuple[float, float]:
    """Return how far out netting hangs on headrope and footrope on ``side``, metres."""
    head, foot = rope_ends(rig, side)
    return (
        min(head, cut.head_bosom / 2 + cut.head_wings[side]),
        min(foot, cut.foot_bosom / 2 + cut.foot_wings[side]),
    )


def rope_ends(rig: Rig, side: str) -> tuple[float, float]:
    """Return how far headrope and footrope reach on ``side``, metres from their centers."""
    foot = rig.footrope
    head = foot.length * 0.9 if rig.headrope.length is None else rig.headrope.length
    return head / 2, abs(foot.end(side))


def _edge(
    cut: Cut, out: float, side: str, sign: int, *, lower: bool, long: float
) -> tuple[float, float]:
    bosom, wings = (cut.foot_bosom, cut.foot_wings) if lower else (cut.head_bosom, cut.head_wings)
    whole = bosom / 2 + wings[side]
    across, forward = cut.edge(out * whole / long, side, lower)
    return sign * across, forward


def _wing_end(cut: Cut, side: str, sign: int) -> list[Station]:
    """Return the Stations down the wing end: headrope's end, seam, footrope's end."""
    front = cut.front(side)
    seams = [cut.seam(side, lower) for lower in (False, True)]
    inner = [seam - cut.wing_end for seam in seams]
    return [
        Station(WING_END, side, 0.0, (sign * inner[0], front), None),
        Station(WING_END, side, 0.5, (sign * seams[0], front), (sign * seams[1], front)),
        Station(WING_END, side, 1.0, None, (sign * inner[1], front)),
    ]
