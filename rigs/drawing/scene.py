"""
A drawing as a list of plain shapes, told apart by what they stand for.

Coordinates are drawing units, x to the right and y down, in a scene of ``width``
by ``height`` of them. Scenes are made 360 units wide so that letters of 12 units
stay readable on a narrow phone. A shape's ``style`` is a name from ``styles``,
never a color.
"""

from dataclasses import dataclass, field

WIDTH = 360
LETTER = 12.5
"""Size of ordinary lettering, in units; no text in a scene is smaller than 12."""

START = "start"
MIDDLE = "middle"
END = "end"


@dataclass(frozen=True, slots=True)
class Line:
    """A straight line; ``data`` are (name, value) pairs that go with the shape."""

    x1: float
    y1: float
    x2: float
    y2: float
    style: str
    data: tuple = ()


@dataclass(frozen=True, slots=True)
class Polyline:
    """An open line through ``points``, pairs of x and y."""

    points: tuple[tuple[float, float], ...]
    style: str
    data: tuple = ()


@dataclass(frozen=True, slots=True)
class Polygon:
    """A closed shape through ``points``, pairs of x and y."""

    points: tuple[tuple[float, float], ...]
    style: str
    data: tuple = ()


@dataclass(frozen=True, slots=True)
class Circle:
    """A circle of radius ``r`` round (``x``, ``y``)."""

    x: float
    y: float
    r: float
    style: str
    data: tuple = ()


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
    data: tuple = ()


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
    parts: list = field(default_factory=list)
    data: tuple = ()

    def add(self, *parts):
        """Put shapes on top of those already there."""
        self.parts.extend(parts)

    def of_style(self, style):
        """Return the shapes that stand for ``style``, in drawing order."""
        return [part for part in self.parts if part.style == style]

    @property
    def texts(self):
        """All lettering, in drawing order."""
        return [part for part in self.parts if isinstance(part, Text)]
