"""A scene as SVG for the page, colored by the site's stylesheet."""

from collections.abc import Iterable
from html import escape
from secrets import token_hex

from rigs.words.say import gettext as _
from rigs.words.units import trimmed

from .scene import XY, Circle, Data, Line, Polygon, Polyline, Scene, Shape, Text

DECIMALS = 2
"""Of a coordinate: finer than any screen shows."""

BASELINE = 0.35
"""How far the baseline lies below the middle of a letter, in letter heights."""

Element = tuple[str, str]
"""An element up to its class, and what closes it."""


def _number(value: float) -> str:
    return trimmed(value, DECIMALS)


def _attributes(pairs: Iterable[tuple[str, object]]) -> str:
    return "".join(f' {name}="{escape(str(value))}"' for name, value in pairs)


def _data(pairs: Data) -> str:
    return _attributes((f"data-{name}", value) for name, value in pairs)


def _points(points: Iterable[XY]) -> str:
    return " ".join(f"{_number(x)},{_number(y)}" for x, y in points)


def _line(part: Line) -> Element:
    ends = {"x1": part.x1, "y1": part.y1, "x2": part.x2, "y2": part.y2}
    return f"<line{_attributes((n, _number(v)) for n, v in ends.items())}", "/>"


def _polyline(part: Polyline) -> Element:
    return f'<polyline points="{_points(part.points)}" fill="none"', "/>"


def _polygon(part: Polygon) -> Element:
    return f'<polygon points="{_points(part.points)}"', "/>"


def _circle(part: Circle) -> Element:
    return f'<circle cx="{_number(part.x)}" cy="{_number(part.y)}" r="{_number(part.r)}"', "/>"


def _text(part: Text) -> Element:
    baseline = part.y + BASELINE * part.size
    return (
        f'<text x="{_number(part.x)}" y="{_number(baseline)}"'
        f' font-size="{_number(part.size)}" text-anchor="{part.anchor}"',
        f">{escape(part.text)}</text>",
    )


def _drawn(part: Shape) -> Element:
    match part:
        case Line():
            return _line(part)
        case Polyline():
            return _polyline(part)
        case Polygon():
            return _polygon(part)
        case Circle():
            return _circle(part)
        case Text():
            return _text(part)


def _element(part: Shape) -> str:
    start, end = _drawn(part)
    names = (
        _("{style} halo").format(style=part.style)
        if isinstance(part, Text) and part.halo
        else part.style
    )
    return _('{start} class="{names}"{data}{end}').format(
        start=start, names=names, data=_data(part.data), end=end
    )


def render(scene: Scene, identifier: str | None = None, sized: bool = False) -> str:
    """
    Return ``scene`` as one SVG element, safe to put into a page as it is.

    ``identifier`` must be unique on the page; a random one is made if it is None.
    A ``sized`` one is shown at a pixel to the unit, others as large as the page has room.
    """
    key = identifier or f"drawing-{token_hex(4)}"
    wide, high = _number(scene.width), _number(scene.height)
    size = f' width="{wide}" height="{high}"' if sized else ""
    return "\n".join(
        [
            '<svg xmlns="http://www.w3.org/2000/svg" class="drawing"'
            f' viewBox="0 0 {wide} {high}"{size}'
            f' role="img" aria-labelledby="{key}-title" aria-describedby="{key}-desc"'
            f"{_data(scene.data)}>",
            f'<title id="{key}-title">{escape(scene.title)}</title>',
            f'<desc id="{key}-desc">{escape(scene.description)}</desc>',
            *map(_element, scene.parts),
            "</svg>",
        ]
    )
