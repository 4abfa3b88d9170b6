"""The wires between door and wing end, port and starboard."""

from collections.abc import Iterable
from typing import TypeVar

from rigs.rules.judge import Verdict
from rigs.words.gear import SIDES, GroundCable, Leg, Rig
from rigs.words.places import Spot
from rigs.words.say import gettext as _
from rigs.words.units import FATHOM, fathoms, feet_inches, inches

from . import marks
from .netting import weave
from .scene import (
    END,
    LETTER,
    MIDDLE,
    START,
    WIDTH,
    XY,
    Circle,
    Line,
    Polygon,
    Polyline,
    Scene,
    Shape,
    Text,
)

_PANEL = 176
_DOOR = 34
_JOINT = 176
_WING = 310
_RISE = 20

Sided = TypeVar("Sided", Leg, GroundCable)


def legs_view(rig: Rig, verdict: Verdict | None = None) -> Scene:
    """
    Return the Scene of ground cables and legs on both sides, not to scale.

    What fails in ``verdict`` on either side is marked and listed.
    """
    parts: list[Shape] = []
    words = [_("Not to scale; the door is to the left, the net to the right.")]
    for row, side in enumerate(SIDES):
        panel, said = _panel(rig, side, row * _PANEL + 74)
        parts += panel
        words.append(said)
    faults = [
        (number, finding)
        for number, finding in marks.numbered(verdict)
        if finding.requirement.measure.marked_at
    ]
    for number, finding in faults:
        for spot in finding.spots:
            parts += _flag(number, finding.requirement.measure.marked_at, spot)
    y: float = 2 * _PANEL + 14
    if faults:
        shapes, y = marks.fault_key(faults, y + 4)
        parts += shapes
        words += marks.fault_words(faults)
    paper = Polygon(((0, 0), (WIDTH, 0), (WIDTH, y), (0, y)), "paper")
    return Scene(WIDTH, y, _("From door to wing end"), " ".join(words), [paper, *parts])


def length_text(metres: float | None) -> str:
    """Return a wire's length as fathoms if it is a round number of them, else in feet."""
    if metres is None:
        return _("not measured")
    count = metres / FATHOM * 2
    return fathoms(metres) if abs(count - round(count)) < 1e-3 else feet_inches(metres)


def _wire_text(length: float | None, diameter: float | None) -> str:
    size = _("size not measured") if diameter is None else inches(diameter)
    return f"{length_text(length)}, {size}"


def _side(parts: Iterable[Sided], side: str) -> Sided | None:
    return next((part for part in parts if part.side == side), None)


def _panel(rig: Rig, side: str, y: float) -> tuple[list[Shape], str]:
    """Return the shapes of one side with its wires at height ``y``, and them in words."""
    leg, cable = _side(rig.legs, side), _side(rig.ground_cables, side)
    net = ((_WING, y - _RISE), (WIDTH - 4, y - 34), (WIDTH - 4, y + 34), (_WING, y + _RISE))
    shapes: list[Shape] = [
        Text(marks.EDGE, y - 58, side, "label-strong", LETTER, START),
        Text(WIDTH - marks.EDGE, y - 52, _("wing end"), "label-quiet", LETTER, END),
        Polygon(net, "netting"),
        *_meshes(y),
        Line(_DOOR, y, _JOINT, y, "cable"),
        Polygon(
            ((_DOOR - 12, y - 20), (_DOOR - 4, y - 22), (_DOOR + 4, y + 20), (_DOOR - 4, y + 22)),
            "door",
        ),
        Text(_DOOR - 20, y - 34, "door", "label-quiet", LETTER, START),
    ]
    words = f"{side.capitalize()}:"
    if cable is not None:
        shapes += _named(92, y - 12, _("ground cable"))
        shapes += _named(106, y + 14, _wire_text(cable.length, cable.diameter))
        shapes += _covering(cable.bare_wire, (_DOOR + 14, y), (_JOINT - 6, y))
        words += f" ground cable {_wire_text(cable.length, cable.diameter)};"
    if leg is not None:
        drawn, said = _legs(leg, y)
        shapes += drawn
        words += said
    if leg is not None and cable is not None:
        shapes += _whole_length(y, leg, cable)
    return shapes, words.rstrip(";") + "."


def _legs(leg: Leg, y: float) -> tuple[list[Shape], str]:
    """Return the shapes of both legs of a side, and them in words."""
    shapes: list[Shape] = []
    words = ""
    for name, way, length, diameter in (
        (_("top leg"), -1, leg.top_length, leg.top_diameter),
        (_("bottom leg"), 1, leg.bottom_length, leg.bottom_diameter),
    ):
        far = (_WING, y + way * _RISE)
        shapes.append(Line(_JOINT, y, *far, "leg"))
        shapes += _covering(leg.bare_wire, (_JOINT + 10, y + way * 1.6), far)
        shapes += _named(232, y + way * 40 - 7.5, name)
        shapes += _named(232, y + way * 40 + 7.5, _wire_text(length, diameter), "label-quiet")
        words += f" {name} {_wire_text(length, diameter)};"
    if leg.extended:
        x = (_JOINT + _WING) / 2
        shapes.append(Polygon(_square(x, y - _RISE / 2, 5), "weight"))
        words += " the leg has an extension;"
    return shapes, words


def _whole_length(y: float, leg: Leg, cable: GroundCable) -> list[Shape]:
    """Return the measure from door to wing end, along the longer leg."""
    if leg.top_length is None or leg.bottom_length is None or cable.length is None:
        return []
    whole = cable.length + max(leg.top_length, leg.bottom_length)
    level = y + 68
    return [
        Line(_DOOR, level, _WING, level, "dimension"),
        Line(_DOOR, level - 5, _DOOR, level + 5, "dimension"),
        Line(_WING, level - 5, _WING, level + 5, "dimension"),
        Text(
            _DOOR + 8,
            level + 12,
            _("door to wing end {length_text}").format(length_text=length_text(whole)),
            "label-strong",
            LETTER,
            START,
        ),
    ]


def _square(x: float, y: float, half: float) -> tuple[XY, ...]:
    return (x - half, y - half), (x + half, y - half), (x + half, y + half), (x - half, y + half)


def _named(x: float, y: float, words: str, style: str = "label") -> list[Shape]:
    return [Text(x, y, words, style, LETTER, MIDDLE)]


def _meshes(y: float) -> list[Polyline]:
    columns, rows = 6, 8

    def knot(i: int, j: int) -> XY:
        share = 2 * j / rows - 1
        half = _RISE + (34 - _RISE) * i / columns
        return _WING + (WIDTH - 4 - _WING) * i / columns, y + half * share

    return weave(knot, columns, rows)


def _covering(bare: bool | None, start: XY, end: XY) -> list[Shape]:
    """Return the discs of a wire known not to be bare."""
    if bare is not False:
        return []
    (x1, y1), (x2, y2) = start, end
    count = 6
    return [
        Circle(x1 + (x2 - x1) * i / count, y1 + (y2 - y1) * i / count, 3.4, "weight")
        for i in range(1, count)
    ]


# Where on a side a rule is marked, as (x, height over the wires), by what it is about.
_HEIGHTS = {
    "all wire": (150, 37),
    "top leg": (166, -24),
    "bottom leg": (166, 24),
    "ground cable": (76, 36),
    "wing end": (_WING - 30, 0),
    "legs": (_WING - 52, 0),
    "whole length": (_DOOR - 16, 68),
}


def _flag(number: int, marked_at: str, spot: Spot) -> tuple[Shape, ...]:
    side = spot.side if isinstance(spot, Leg | GroundCable) else str(spot).split()[0]
    if side not in SIDES:
        return ()
    x, rise = _HEIGHTS[marked_at]
    if marked_at == "all wire" and isinstance(spot, GroundCable):
        x = 46
    return marks.badge(number, x, SIDES.index(side) * _PANEL + 74 + rise)
