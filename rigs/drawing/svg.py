"""A scene as SVG for the page, colored by the site's stylesheet."""

from html import escape
from secrets import token_hex

from rigs.words.units import trimmed

from .scene import Circle, Line, Polygon, Polyline, Text

DECIMALS = 2
"""Of a coordinate: finer than any screen shows."""

BASELINE = 0.35
"""How far the baseline lies below the middle of a letter, in letter heights."""


def _number(value):
    return trimmed(value, DECIMALS)


def _attributes(pairs):
    return "".join(f' {name}="{escape(str(value))}"' for name, value in pairs)


def _data(pairs):
    return _attributes((f"data-{name}", value) for name, value in pairs)


def _points(points):
    return " ".join(f"{_number(x)},{_number(y)}" for x, y in points)


def _line(part):
    ends = {"x1": part.x1, "y1": part.y1, "x2": part.x2, "y2": part.y2}
    return f"<line{_attributes((n, _number(v)) for n, v in ends.items())}", "/>"


def _polyline(part):
    return f'<polyline points="{_points(part.points)}" fill="none"', "/>"


def _polygon(part):
    return f'<polygon points="{_points(part.points)}"', "/>"


def _circle(part):
    return f'<circle cx="{_number(part.x)}" cy="{_number(part.y)}" r="{_number(part.r)}"', "/>"


def _text(part):
    baseline = part.y + BASELINE * part.size
    return (
        f'<text x="{_number(part.x)}" y="{_number(baseline)}"'
        f' font-size="{_number(part.size)}" text-anchor="{part.anchor}"',
        f">{escape(part.text)}</text>",
    )


_ELEMENTS = {
    Line: _line,
    Polyline: _polyline,
    Polygon: _polygon,
    Circle: _circle,
    Text: _text,
}


def _element(part):
    start, end = _ELEMENTS[type(part)](part)
    names = f"{part.style} halo" if getattr(part, "halo", False) else part.style
    return f'{start} class="{names}"{_data(part.data)}{end}'


def render(scene, identifier=None, sized=False):
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
