"""The parts of a net in flight as shapes, in whichever way it is looked at."""

from collections.abc import Sequence

import numpy as np

from rigs.physics import chain
from rigs.physics.flight import Trailing
from rigs.physics.flight.bars import Figures
from rigs.physics.tow import hang, line
from rigs.words.gear import SIDES
from rigs.words.say import gettext as _

from .. import marks
from ..netting import weave
from ..scene import WIDTH, XY, Circle, KeyEntry, Line, Polygon, Polyline, Shape
from .lens import Lens, cut_off
from .places import Places

STRIP = 14
"""How much of the bottom is drawn under its edge."""

_FLOAT = 3.4
_KNOT = 3.2


def ground(bed: float) -> list[Shape]:
    """Return water down to ``bed``, and under it a strip of the bottom."""
    foot = bed + STRIP
    return [
        Polygon(((0, 0), (WIDTH, 0), (WIDTH, foot), (0, foot)), "water"),
        Polygon(((0, bed), (WIDTH, bed), (WIDTH, foot), (0, foot)), "seabed"),
        *(Circle(11 + i * 22.5, bed + 5 + (i * 7) % 6, 0.8, "sand") for i in range(16)),
    ]


def panel(places: Figures, lens: Lens, columns: int, rows: int) -> list[Shape]:
    """Return a panel of netting, ``places`` (columns, rows, 3), woven of so many meshes."""
    last, behind = len(places) - 1, len(places[0]) - 1

    def knot(i: int, j: int) -> XY:
        across, aft = i / columns * last, j / rows * behind
        column, row = min(int(across), last - 1), min(int(aft), behind - 1)
        across, aft = across - column, aft - row
        near, far = places[column : column + 2, row], places[column : column + 2, row + 1]
        sides = near * (1 - aft) + far * aft
        return lens.at(sides[0] * (1 - across) + sides[1] * across)

    edge = [*places[:, 0], *places[-1, 1:], *places[0, -2:0:-1]]
    return [Polygon(lens.line(edge), "netting"), *weave(knot, columns, rows)]


def before(net: Places, lens: Lens, low: XY, high: XY) -> list[Shape]:
    """Return ropes and sweep of a net before a change, within the box from low to high."""
    lines = [lens.line(net.head), lens.line(net.foot)]
    lines += [lens.line(net.wing_end(side)) for side in SIDES]
    if net.sweep is not None:
        lines.append(lens.line(net.sweep))
    lines += [cut_off(each, low, high) for each in _legs(net, lens, ("top", "bottom"))]
    return [Polyline(each, "before") for each in lines]


def legs(net: Places, lens: Lens, low: XY, high: XY) -> list[Shape]:
    """Return legs and ground cables from the wing ends ahead, within the box from low to high."""
    shapes: list[Shape] = [
        Polyline(cut_off(each, low, high), "leg") for each in _legs(net, lens, ("top", "bottom"))
    ]
    for each in _legs(net, lens, ("cable",)):
        x, y = each[0]
        if low[0] <= x <= high[0] and low[1] <= y <= high[1]:
            shapes.append(Polyline(cut_off(each, low, high), "cable"))
    return shapes


def _legs(net: Places, lens: Lens, names: Sequence[str]) -> list[tuple[XY, ...]]:
    """Return the lines called ``names``, from aft ahead."""
    return [lens.line(net.legs(side, name)[::-1]) for side in SIDES for name in names]


def ropes(net: Places, lens: Lens) -> list[Shape]:
    """Return wing ends, headrope with its floats, and footrope with corners and center."""
    rope = net.flown.rig.footrope
    floats = [lens.at(net.on_headrope(each.position)) for each in net.flown.rig.floats or ()]
    return [
        *(Polyline(lens.line(net.wing_end(side)), "belly") for side in SIDES),
        Polyline(lens.line(net.head), "headrope"),
        *(Circle(x, y, _FLOAT, "float") for x, y in floats),
        Polyline(lens.line(net.foot), "footrope"),
        *(marks.diamond(*lens.at(net.on_footrope(rope.corner(side))), 6.5) for side in SIDES),
    ]


def knots(net: Places, lens: Lens) -> list[Shape]:
    """Return the dots where droppers hang."""
    return [
        Circle(*lens.at(net.on_footrope(each.position)), _KNOT, "dropper")
        for each in net.flown.rig.droppers or ()
    ]


def sweep(net: Places, lens: Lens) -> list[Shape]:
    """Return the sweep and the droppers down to it; nothing without one."""
    if net.sweep is None:
        return []
    return [
        *(Polyline(lens.line(each), "dropper-chain") for each in net.swept()),
        Polyline(lens.line(net.sweep), "sweep"),
    ]


def chain_places(net: Places, trailing: Trailing) -> tuple[Figures, Figures | None]:
    """Return where the chain of a dropper hangs, from the footrope down, and what of it drags."""
    dropper, guess = trailing.dropper, net.flown.guess
    assert dropper.diameter is not None
    assert dropper.length is not None
    made = hang(
        line(chain.stock_for(dropper.diameter)),
        dropper.length,
        guess.speed,
        trailing.shine,
        guess.friction,
    )
    top = net.on_footrope(dropper.position)
    # What lies on the bottom is the last of its points.
    hanging = made.points[:-1] if made.touches and len(made.points) > 1 else made.points
    clear = trailing.up - made.height if trailing.clear else 0.0
    drop = (trailing.up - clear) / made.height if made.height > 0 else 0.0
    places = np.array([top + (aft, 0.0, clear + up * drop - top[2]) for aft, up in hanging])
    if not made.touches:
        return places, None
    start = places[-1] * (1, 1, 0)
    return places, np.array([start, start + (trailing.shine, 0.0, 0.0)])


def key(net: Places, *, changed: bool, shines: bool = False) -> list[KeyEntry]:
    """Return what a legend says of ``net``; ``shines`` says that what drags is drawn."""
    found: list[KeyEntry] = []
    if changed:
        found += [(sign_of_before, _("before")), (marks.sign_of_footrope, _("footrope, after"))]
    else:
        found.append((marks.sign_of_footrope, _("footrope")))
    found.append(
        (marks.sign_of_floats, _("headrope with floats"))
        if net.flown.rig.floats
        else (marks.sign_of_headrope, _("headrope"))
    )
    found.append((marks.sign_of_corner, _("corner")))
    if net.flown.rig.droppers:
        found.append((marks.sign_of_dropper, _("dropper")))
    if shines and net.shines:
        found.append((sign_of_shine, _("drags on the bottom")))
    if net.sweep is not None:
        found.append((marks.sign_of_sweep, _("sweep")))
    return found


def sign_of_before(x: float, y: float) -> tuple[Shape, ...]:
    return (Polyline(((x - 10, y), (x + 10, y)), "before"),)


def sign_of_shine(x: float, y: float) -> tuple[Shape, ...]:
    return bright((x - 8, y), (x + 8, y))


def bright(start: XY, end: XY) -> tuple[Shape, ...]:
    """Return the bright part of a dropper."""
    return Line(*start, *end, "link"), Line(*start, *end, "shine")
