"""
The pictures by which a phone shows the site among its apps, made from the site's mark.

``python -m training.sea.icons`` makes them anew after the mark has changed.
"""

from collections.abc import Iterator
from math import hypot
from pathlib import Path
from typing import NamedTuple
from xml.etree import ElementTree

from PIL import Image, ImageDraw

STATIC = Path(__file__).resolve().parent.parent / "static"
MARK = STATIC / "mark.svg"
SIDE = 32
"""How many units the mark is wide and high."""
FINER = 4
"""Drawn so many times too large and shrunk, which smooths its edges."""
SAFE = 0.72
"""How much of a picture a phone may cut to any shape it likes the mark takes up."""

XY = tuple[float, float]


class Icon(NamedTuple):
    """A picture, by the name of its file; one that is masked reaches to its edges."""

    name: str
    size: int
    is_masked: bool = False


ICONS = (
    Icon("icons/192.png", 192),
    Icon("icons/512.png", 512),
    Icon("icons/512-masked.png", 512, is_masked=True),
)


def _lines(path: str) -> Iterator[list[XY]]:
    """Yield the lines that the ``d`` of a path draws: M, H, V and Q in whole positions."""
    words = path.replace("M", " M ").replace("Q", " Q ").replace("H", " H ").replace("V", " V ")
    tokens = iter(words.split())
    line: list[XY] = []
    for token in tokens:
        if token == "M":
            if line:
                yield line
            line = [(float(next(tokens)), float(next(tokens)))]
        elif token == "H":
            line.append((float(next(tokens)), line[-1][1]))
        elif token == "V":
            line.append((line[-1][0], float(next(tokens))))
        elif token == "Q":
            (x0, y0), (x1, y1, x2, y2) = line[-1], [float(next(tokens)) for _ in range(4)]
            for step in range(1, 41):
                t = step / 40
                line.append(
                    (
                        (1 - t) ** 2 * x0 + 2 * t * (1 - t) * x1 + t**2 * x2,
                        (1 - t) ** 2 * y0 + 2 * t * (1 - t) * y1 + t**2 * y2,
                    )
                )
        else:
            raise ValueError(token)  # not drawn here
    yield line


def _pieces(line: list[XY], dashes: list[float]) -> Iterator[list[XY]]:
    """Yield what a pen that leaves gaps draws of a straight ``line``; all of it without dashes."""
    if not dashes:
        yield line
        return
    (x0, y0), (x1, y1) = line
    on, off = dashes
    length = hypot(x1 - x0, y1 - y0)
    begun = 0.0
    while begun < length:
        ends = (begun, min(begun + on, length))
        yield [(x0 + (x1 - x0) * at / length, y0 + (y1 - y0) * at / length) for at in ends]
        begun += on + off


def _draw(canvas: ImageDraw.ImageDraw, part: ElementTree.Element, scale: float, shift: float):
    width = float(part.get("stroke-width", "1")) * scale
    dashes = [float(each) for each in part.get("stroke-dasharray", "").split()]
    for line in _lines(part.get("d", "")):
        for piece in _pieces(line, dashes):
            at = [(x * scale + shift, y * scale + shift) for x, y in piece]
            canvas.line(at, fill=part.get("stroke"), width=round(width), joint="curve")
            for x, y in (at[0], at[-1]):  # round ends
                half = width / 2
                canvas.ellipse((x - half, y - half, x + half, y + half), fill=part.get("stroke"))


def picture(icon: Icon) -> Image.Image:
    """Return ``icon`` as drawn from the mark."""
    ground, *strokes = ElementTree.parse(MARK).getroot()
    whole = icon.size * FINER
    image = Image.new("RGBA", (whole, whole))
    canvas = ImageDraw.Draw(image)
    fill = ground.get("fill")
    scale, shift = whole / SIDE, 0.0
    if icon.is_masked:
        canvas.rectangle((0, 0, whole, whole), fill=fill)
        scale, shift = scale * SAFE, whole * (1 - SAFE) / 2
    else:
        radius = float(ground.get("rx", "0")) * scale
        canvas.rounded_rectangle((0, 0, whole - 1, whole - 1), radius=radius, fill=fill)
    for part in strokes:
        _draw(canvas, part, scale, shift)
    return image.resize((icon.size, icon.size), Image.Resampling.LANCZOS)


def main():
    for icon in ICONS:
        path = STATIC / icon.name
        path.parent.mkdir(exist_ok=True)
        picture(icon).save(path, optimize=True)


if __name__ == "__main__":
    main()
