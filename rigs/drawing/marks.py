"""Signs shared by the drawings: droppers, corners, numbered faults, the legend."""

import re
from collections.abc import Iterable, Sequence
from math import hypot

from rigs.rules.judge import Finding, Verdict
from rigs.words.gear import PORT, SIDES, Dropper, Float, Footrope
from rigs.words.places import Spot, Stretch
from rigs.words.say import gettext as _
from rigs.words.units import feet_inches

from .lettering import Box, text_box, wrap
from .scene import (
    START,
    WIDTH,
    XY,
    Circle,
    Data,
    KeyEntry,
    Line,
    Polygon,
    Polyline,
    Shape,
    Text,
)

DOT = 4.4
RING = 7.6
BADGE = 8.5
CHAIN = 14
ROW = 18
EDGE = 12

_TWO_APART = 2.6

Fault = tuple[int, Finding]
"""A finding that fails, and its number on the drawing."""

Names = tuple[str, str]
"""What dots and rings stand for."""


def diamond(x: float, y: float, size: float, style: str = "corner", data: Data = ()) -> Polygon:
    """Return a square stood on its corner round (x, y)."""
    return Polygon(((x, y - size), (x + size, y), (x, y + size), (x - size, y)), style, data)


def arrow(x: float, y1: float, y2: float) -> tuple[Shape, ...]:
    """Return the shapes of an upright arrow from ``y1`` to its point at ``y2``."""
    back = 7 if y2 < y1 else -7
    return (
        Line(x, y1, x, y2 + back, "arrow"),
        Polygon(((x, y2), (x - 5, y2 + back * 1.4), (x + 5, y2 + back * 1.4)), "arrow-head"),
    )


def hanging(top: XY, foot: XY, dropper: Dropper) -> list[Shape]:
    """
    Return the shapes of a dropper's chain from ``top`` to ``foot``, both (x, y).

    Two chains are drawn for a doubled dropper; a dropper known not to be bare
    carries a block.
    """
    (x1, y1), (x2, y2) = top, foot
    run = hypot(x2 - x1, y2 - y1) or 1.0
    along, across = (x2 - x1) / run, (y2 - y1) / run
    apart = _TWO_APART if dropper.count > 1 else 0.0
    shapes: list[Shape] = [
        Line(
            x1 - across * side * apart,
            y1 + along * side * apart,
            x2 - across * side * apart,
            y2 + along * side * apart,
            "dropper-chain",
        )
        for side in ((-1, 1) if apart else (0,))
    ]
    if dropper.bare is False:
        shapes.append(Circle(x2, y2, 3.6, "weight"))
    return shapes


def knot(x: float, y: float, dropper: Dropper) -> Circle:
    """Return the dot where ``dropper`` hangs from the footrope."""
    return Circle(x, y, DOT, "dropper", (("position", round(dropper.position, 6)),))


def ring(x: float, y: float, dropper: Dropper) -> Circle:
    """Return the hollow mark of another rig's dropper."""
    return Circle(x, y, RING, "ghost", (("position", round(dropper.position, 6)),))


def box_round(x: float, y: float, reach: float) -> Box:
    """Return the Box that reaches ``reach`` to every side of (x, y)."""
    return Box(x - reach, y - reach, x + reach, y + reach)


def badge(number: int, x: float, y: float) -> tuple[Shape, ...]:
    """Return an eight-sided badge with a fault's number."""
    cut = BADGE * 0.42
    corners = ((-BADGE, -cut), (-cut, -BADGE), (cut, -BADGE), (BADGE, -cut))
    ring_of = [*corners, *((-a, -b) for a, b in corners)]
    return (
        Polygon(tuple((x + a, y + b) for a, b in ring_of), "badge"),
        Text(x, y, str(number), "badge-number", 12),
    )


def framed(x: float, y: float) -> Polygon:
    """Return the square drawn round a part that fails."""
    s = RING + 0.6
    return Polygon(((x - s, y - s), (x + s, y - s), (x + s, y + s), (x - s, y + s)), "fault")


def numbered(verdict: Verdict | None) -> list[Fault]:
    """Return the failed findings of ``verdict`` as (number, Finding), none for None."""
    return list(enumerate(verdict.failed, 1)) if verdict else []


def along_footrope(spot: Spot, rope: Footrope) -> Stretch | None:
    """
    Return where on the footrope a failing spot lies, as metres (from, to).

    The two are one for a point. None for what is not on the footrope.
    """
    if isinstance(spot, Dropper):
        return spot.position, spot.position
    if isinstance(spot, tuple) and len(spot) > 2:
        side, start, end, __ = spot
        if start is None or end is None:
            return None
        sign = -1 if side == PORT else 1
        corner = rope.corner(side)
        low, high = sorted((corner + sign * start, corner + sign * end))
        return low, high
    named = {"center": 0.0, "dropper_at_centre": 0.0}
    for side in SIDES:
        named[f"{side} corner"] = rope.corner(side)
        named[f"{side} wing end"] = named[f"{side} side of the sweep"] = rope.end(side)
    at = named.get(spot) if isinstance(spot, str) else None
    return None if at is None else (at, at)


def along_headrope(spot: Spot, length: float) -> Stretch | None:
    """Return where on a headrope of ``length`` metres a spot lies, as ``along_footrope``."""
    if isinstance(spot, Float):
        return spot.position, spot.position
    if isinstance(spot, tuple) and len(spot) == 2:
        return spot
    return (-length / 2, length / 2) if spot == "whole headrope" else None


def fault_line(finding: Finding) -> str:
    """Return what a finding says in the key under a drawing."""
    return f"{finding.title}: {finding.margin_text or finding.measured_text}"


def fault_key(faults: Iterable[Fault], y: float, width: float = WIDTH) -> tuple[list[Shape], float]:
    """Return the shapes of the key to numbered faults from ``y`` down, and where it ends."""
    shapes: list[Shape] = []
    for number, finding in faults:
        shapes += badge(number, EDGE + BADGE, y)
        for line in wrap(fault_line(finding), width - 3 * EDGE - 2 * BADGE):
            shapes.append(Text(EDGE * 1.7 + 2 * BADGE, y, line, "label", anchor=START))
            y += ROW - 1
        y += 6
    return shapes, y


def paragraph(text: str, y: float, width: float = WIDTH) -> tuple[list[Shape], float]:
    """Return ``text`` as lines of lettering from ``y`` down, and where they end."""
    shapes: list[Shape] = []
    for line in wrap(text, width - 2 * EDGE):
        shapes.append(Text(EDGE, y, line, "label-quiet", anchor=START))
        y += ROW - 2
    return shapes, y


def legend(
    entries: Iterable[KeyEntry], y: float, width: float = WIDTH
) -> tuple[list[Shape], float]:
    """
    Return the shapes of a legend from ``y`` down, and where it ends.

    ``entries`` are (function of x and y that returns shapes, words); they are set
    side by side for as long as there is room.
    """
    shapes: list[Shape] = []
    x: float = EDGE
    for sign, words in entries:
        label = Text(x + 25, y, words, "label", anchor=START)
        right = text_box(label).right
        if x > EDGE and right > width - EDGE:
            x, y = EDGE, y + ROW + 2
            label = Text(x + 25, y, words, "label", anchor=START)
            right = text_box(label).right
        shapes += [*sign(x + 9, y), label]
        x = right + 14
    return shapes, y + ROW


def sign_of_dropper(x: float, y: float) -> tuple[Shape, ...]:
    return (Line(x, y - 3, x, y + 8, "dropper-chain"), Circle(x, y - 3, DOT, "dropper"))


def sign_of_ring(x: float, y: float) -> tuple[Shape, ...]:
    return (Circle(x, y, RING - 0.6, "ghost"),)


def sign_of_corner(x: float, y: float) -> tuple[Shape, ...]:
    return (diamond(x, y, 6),)


def sign_of_footrope(x: float, y: float) -> tuple[Shape, ...]:
    return (Line(x - 9, y, x + 9, y, "footrope"),)


def sign_of_headrope(x: float, y: float) -> tuple[Shape, ...]:
    return (Line(x - 9, y, x + 9, y, "headrope"),)


def sign_of_floats(x: float, y: float) -> tuple[Shape, ...]:
    return (*sign_of_headrope(x, y), Circle(x, y, 4.4, "float"))


def sign_of_sweep(x: float, y: float) -> tuple[Shape, ...]:
    return (Polyline(((x - 9, y), (x + 9, y)), "sweep"),)


def stops(footrope: Footrope, droppers: Iterable[Dropper]) -> list[float]:
    """
    Return the places between which distances are written, port to starboard.

    Every dropper, the center, both corners and both wing ends, each once.
    """
    fixed = [
        0.0,
        footrope.port_corner,
        footrope.starboard_corner,
        footrope.port_end,
        footrope.starboard_end,
    ]
    places: list[float] = []
    for at in sorted([*fixed, *(each.position for each in droppers)]):
        if not places or at - places[-1] > 1e-3:
            places.append(at)
    return places


def footrope_words(rope: Footrope) -> str:
    """Return the sizes of a footrope in one sentence."""
    return _(
        "Footrope {feet_inches}: bosom {feet_inches2}, port wing {feet_inches3}, starboard "
        "wing {feet_inches4}."
    ).format(
        feet_inches=feet_inches(rope.length),
        feet_inches2=feet_inches(rope.bosom),
        feet_inches3=feet_inches(rope.port_wing),
        feet_inches4=feet_inches(rope.starboard_wing),
    )


def _listed(places: Sequence[float]) -> str:
    """Return distances in metres as words: ``10, 18 and 26 ft``, ``8 ft and 16 ft 6 in``."""
    told = [feet_inches(place) for place in places]
    if all(re.fullmatch(r"\d+ ft", words) for words in told):
        told = [*(words.removesuffix(" ft") for words in told[:-1]), told[-1]]
    return (
        told[0]
        if len(told) == 1
        else _("{told} and {told2}").format(told=", ".join(told[:-1]), told2=told[-1])
    )


def places_words(positions: Iterable[float]) -> str:
    """Return places on the footrope as words: ``at the center, and 8 and 16 ft to each side``."""
    rounded = {round(position, 4) for position in positions}
    out = sorted({abs(position) for position in rounded if position})
    sides = {
        "to each side": [at for at in out if {at, -at} <= rounded],
        "to port": [at for at in out if at not in rounded],
        "to starboard": [at for at in out if -at not in rounded],
    }
    told = [f"{_listed(places)} {side}" for side, places in sides.items() if places]
    if 0 in rounded:
        told.insert(0, _("at the center"))
    return ", and ".join(told)


def dropper_words(
    droppers: Sequence[Dropper] | None, ghost: Sequence[Dropper] | None, name: str
) -> list[str]:
    """Return sentences that tell where droppers, and another rig's, hang."""
    words = [_("No droppers are drawn.")]
    if droppers:
        count = _("{droppers} dropper{value}").format(
            droppers=len(droppers), value="s" * (len(droppers) != 1)
        )
        words = [f"{count}: {places_words([each.position for each in droppers])}."]
    if ghost:
        words.append(
            _("Rings, {name}: {places_words}.").format(
                name=name, places_words=places_words([each.position for each in ghost])
            )
        )
    return words


def fault_words(faults: Iterable[Fault]) -> list[str]:
    """Return a sentence for each numbered fault, with the places it was found at."""
    return [
        _("Fault {number}, {fault_line}").format(number=number, fault_line=fault_line(finding))
        + (f" ({', '.join(finding.places)})." if finding.places else ".")
        for number, finding in faults
    ]
