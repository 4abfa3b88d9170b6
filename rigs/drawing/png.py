"""A scene as a PNG picture for print and for sending on."""

from collections.abc import Iterable, Iterator, Sequence
from io import BytesIO
from math import ceil, hypot

from PIL import Image, ImageDraw

from rigs.words.say import gettext as _

from . import typeface
from .palette import DRAWINGS
from .scene import END, START, XY, Circle, Line, Polygon, Polyline, Scene, Shape, Text
from .styles import STYLES, Style
from .svg import BASELINE

OVERSAMPLING = 2
"""Everything is drawn so many times too large and shrunk, which smooths its edges."""

_ANCHORS = {START: "ls", END: "rs"}
_HALO = 0.22  # of the letter's size


def _dashes(points: Sequence[XY], dash: tuple[float, float]) -> Iterator[list[XY]]:
    """Yield the pieces of the line through ``points`` that a dashed pen draws."""
    on, off = dash
    piece, left, drawing = [points[0]], on, True
    for (x1, y1), (x2, y2) in zip(points, points[1:], strict=False):
        run = hypot(x2 - x1, y2 - y1)
        done = 0.0
        while run - done > left:
            done += left
            at = (x1 + (x2 - x1) * done / run, y1 + (y2 - y1) * done / run)
            if drawing:
                yield [*piece, at]
            piece, drawing = [at], not drawing
            left = on if drawing else off
        left -= run - done
        piece.append((x2, y2))
    if drawing and len(piece) > 1:
        yield piece


class _Pen:
    """Draws shapes of a scene on an image ``scale`` pixels to the unit."""

    def __init__(self, image: Image.Image, scale: float) -> None:
        self.canvas = ImageDraw.Draw(image)
        self.scale = scale

    def draw(self, part: Shape) -> None:
        style = STYLES[part.style]
        fill = style.fill and DRAWINGS[style.fill].printed
        if isinstance(part, Text):
            self._text(part, fill, style.bold)
        elif isinstance(part, Circle):
            self._circle(part, fill, style)
        elif isinstance(part, Polygon):
            self._polygon(part, fill, style)
        elif isinstance(part, Line):
            self._stroke([(part.x1, part.y1), (part.x2, part.y2)], style)
        elif isinstance(part, Polyline):
            self._stroke(list(part.points), style)
        else:
            raise TypeError(_("{name} cannot be drawn").format(name=type(part).__name__))

    def _scaled(self, points: Iterable[XY]) -> list[XY]:
        return [(x * self.scale, y * self.scale) for x, y in points]

    def _stroke(self, points: Sequence[XY], style: Style) -> None:
        pieces = _dashes(points, style.dash) if style.dash else [points]
        color = DRAWINGS[style.stroke or ""].printed
        width = max(1, round(style.width * self.scale))
        for piece in pieces:
            at = self._scaled(piece)
            self.canvas.line(at, fill=color, width=width, joint="curve")
            if width > 2:
                for x, y in (at[0], at[-1]):
                    self._disc(x, y, width / 2, color)

    def _disc(self, x: float, y: float, r: float, color: str) -> None:
        self.canvas.ellipse((x - r, y - r, x + r, y + r), fill=color)

    def _circle(self, part: Circle, fill: str | None, style: Style) -> None:
        x, y = part.x * self.scale, part.y * self.scale
        half = style.width * self.scale / 2 if style.stroke else 0
        r = part.r * self.scale + half
        self.canvas.ellipse(
            (x - r, y - r, x + r, y + r),
            fill=fill or None,
            outline=DRAWINGS[style.stroke].printed if style.stroke else None,
            width=max(1, round(2 * half)) if style.stroke else 0,
        )

    def _polygon(self, part: Polygon, fill: str | None, style: Style) -> None:
        if fill:
            self.canvas.polygon(self._scaled(part.points), fill=fill)
        if style.stroke:
            self._stroke([*part.points, part.points[0]], style)

    def _text(self, part: Text, fill: str | None, bold: bool) -> None:
        self.canvas.text(
            (part.x * self.scale, (part.y + BASELINE * part.size) * self.scale),
            typeface.printable(part.text),
            fill=fill,
            font=typeface.font(part.size * self.scale, bold),
            anchor=_ANCHORS.get(part.anchor, "ms"),
            stroke_width=part.size * self.scale * _HALO if part.halo else 0,
            stroke_fill=DRAWINGS["paper"].printed,
        )


def drawn(scene: Scene, width: int = 1200) -> Image.Image:
    """
    Return ``scene`` as a picture ``width`` pixels wide.

    Its height follows from the scene's shape. Raise ValueError if ``width`` is not
    a positive whole number, KeyError for a shape of unknown style.
    """
    if width < 1 or width != int(width):
        raise ValueError(_("A picture is a whole number of pixels wide, at least one."))
    height = max(1, round(width * scene.height / scene.width))
    size = (width * OVERSAMPLING, ceil(height * OVERSAMPLING))
    image = Image.new("RGB", size, DRAWINGS["paper"].printed)
    pen = _Pen(image, size[0] / scene.width)
    for part in scene.parts:
        pen.draw(part)
    return image.reduce(OVERSAMPLING)


def render(scene: Scene, width: int = 1200) -> bytes:
    """Return ``scene`` as the bytes of a PNG picture, as ``drawn`` draws it."""
    data = BytesIO()
    drawn(scene, width).save(data, "PNG", optimize=True)
    return data.getvalue()
