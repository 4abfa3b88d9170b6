"""A drawing with its title and what else goes with it above, to leave the site as a picture."""

from collections.abc import Sequence
from dataclasses import replace

from .graph import EDGE
from .lettering import wrap
from .scene import LETTER, START, Circle, Line, Polygon, Polyline, Scene, Shape, Text

_LARGE = 15
_LINE = 1.35  # sizes of type from one line to the next


def titled(scene: Scene, title: str, notes: Sequence[str] = ()) -> Scene:
    """Return ``scene`` with ``title`` above it and below that ``notes``, a paragraph each."""
    room = scene.width - 2 * EDGE
    parts: list[Shape] = []
    y: float = EDGE
    for words, size, style in (
        (title, _LARGE, "label-strong"),
        *((note, LETTER, "label") for note in notes),
    ):
        for line in wrap(words, room, size):
            y += size * _LINE
            parts.append(Text(EDGE, y - size / 2, line, style, size, START))
        y += 3
    height = y + EDGE / 2
    corners = ((0, 0), (scene.width, 0), (scene.width, height), (0, height))
    shifted = [_lower(part, height) for part in scene.parts]
    ground = Polygon(corners, "paper")
    words = " ".join((title, *notes, scene.description))
    return Scene(scene.width, scene.height + height, scene.title, words, [ground, *parts, *shifted])


def _lower(part: Shape, by: float) -> Shape:
    """Return ``part`` so much lower on the drawing."""
    match part:
        case Line():
            return replace(part, y1=part.y1 + by, y2=part.y2 + by)
        case Polyline() | Polygon():
            return replace(part, points=tuple((x, y + by) for x, y in part.points))
        case Circle() | Text():
            return replace(part, y=part.y + by)
