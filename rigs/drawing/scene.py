"""
A drawing as a list of plain shapes, told apart by what they stand for.

Coordinates are drawing units, x to the right and y down, in a scene of ``width``
by ``height`` of them. Scenes are made 360 units wide so that letters of 12 units
stay readable on a narrow phone. A shape's ``style`` is a name from ``styles``,
never a color.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field

WIDTH = 360
LETTER = 12.5
"""Size of ordinary lettering, in units; no text in a scene is smaller than 12."""

START = "start"
MIDDLE = "middle"
END = "end"

XY = tuple[float, float]
"""A place on a drawing, or on what it shows: x and y."""

Data = tuple[tuple[str, object], ...]
"""What goes with a shape or a scene for a script to read: names and values."""


@dataclass(frozen=True, slots=True)
class Line:
    """A straight line; ``data`` are (name, value) pairs that go with the shape."""

    x1: float
    y1: float
    x2: float
    y2: float
    style: str
    data: Data = ()


@dataclass(frozen=True, slots=True)
class Polyline:
    """An open line through ``points``, pairs of x and y."""

    points: tuple[XY, ...]
    style: str
    data: Data = ()


@dataclass(frozen=True, slots=True)
class Polygon:
    """A closed shape through ``points``, pairs of x and y."""

    points: tuple[XY, ...]
    style: str
    data: Data = ()


@dataclass(frozen=True, slots=True)
class Circle:
    """A circle of radius ``r`` round (``x``, ``y``)."""

    x: float
    y: float
    r: float
    style: str
    data: Data = ()


@dataclass(frozen=True, slots=True)
class Text:
    """
    One line of lettering, its middle height at ``y``.

    ``anchor`` says which end of the text is at ``x``; ``halo`` surrounds the letters
    with the paper's color, so that they can be read across a line.
    """

    x: float
    y: float
    text: str
    style: str = "label"
    size: float = LETTER
    anchor: str = MIDDLE
    halo: bool = False
    data: Data = ()


Shape = Line | Polyline | Polygon | Circle | Text

Sign = Callable[[float, float], Iterable[Shape]]
"""Draws the sign of something round (x, y), as for a key."""

KeyEntry = tuple[Sign, str]
"""A sign and what it stands for."""


@dataclass
class Scene:
    """
    A whole drawing.

    ``title`` and ``description`` tell it to those who cannot see it. ``data`` are
    (name, value) pairs about the drawing as a whole, such as its scale.
    """

    width: float
    height: float
    title: str
    description: str
    parts: list[Shape] = field(default_factory=list)
    data: Data = ()

    def add(self, *parts: Shape) -> None:
        """Put shapes on top of those already there."""
        self.parts.extend(parts)

    def of_style(self, style: str) -> list[Shape]:
        """Return the shapes that stand for ``style``, in drawing order."""
        return [part for part in self.parts if part.style == style]

    @property
    def texts(self) -> list[Text]:
        """All lettering, in drawing order."""
        return [part for part in self.parts if isinstance(part, Text)]
