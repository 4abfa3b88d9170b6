"""Parts of wholes as level bars, each with its words above it."""

from collections.abc import Sequence
from typing import NamedTuple

from .graph import EDGE, ROW, blank, box, hatch, note, note_height
from .lettering import text_width, wrap
from .scene import END, LETTER, START, WIDTH, Scene, Text

_THICK = 14


class Bar(NamedTuple):
    """
    A name, ``part`` of ``whole``, and how that is said: ``12 of 40``.

    ``part`` is None where it is not told; then the bar is hatched all along.
    """

    name: str
    part: float | None
    whole: float
    words: str


def bars_view(
    title: str, description: str, bars: Sequence[Bar], remark: str = "", alike: bool = False
) -> Scene:
    """
    Return the Scene of ``bars`` from the top down, with ``remark`` below them.

    Wholes are all drawn as long as the drawing allows, or, with ``alike``, in one scale,
    so that the largest is that long.
    """
    most = max((bar.whole for bar in bars), default=0)
    names = [wrap(bar.name, _room(bar)) for bar in bars]
    heights = [ROW * len(name) + _THICK + 16 for name in names]
    below = note_height(remark) + 8 if remark else 0
    scene = blank(title, description, EDGE + sum(heights) + below + EDGE)
    y: float = EDGE
    for bar, name, height in zip(bars, names, heights, strict=True):
        at = y + 8
        scene.add(Text(WIDTH - EDGE, at, bar.words, "label-strong", anchor=END))
        for line in name:
            scene.add(Text(EDGE, at, line, anchor=START))
            at += ROW
        _draw(scene, bar, at - 8, bar.whole / most if alike and most else 1)
        y += height
    if remark:
        note(scene, y + 8, remark)
    return scene


def _room(bar: Bar) -> float:
    """Return how wide the name of ``bar`` may be."""
    return WIDTH - 2 * EDGE - text_width(bar.words, LETTER, bold=True) - 12


def _draw(scene: Scene, bar: Bar, top: float, length: float) -> None:
    full = (WIDTH - 2 * EDGE) * length
    right = EDGE + full
    scene.add(box(EDGE, top, right, top + _THICK, "band-6"))
    if bar.part is None:
        scene.add(*hatch(EDGE, top, right, top + _THICK))
    elif bar.part and bar.whole:
        scene.add(box(EDGE, top, EDGE + full * bar.part / bar.whole, top + _THICK, "band-1"))
