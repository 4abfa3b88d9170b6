"""How many of each sort there were at the end of each month, one band upon another."""

from collections.abc import Sequence
from dataclasses import dataclass

from rigs.words.say import gettext as _

from .graph import (
    EDGE,
    LEFT,
    SMALL,
    Axis,
    blank,
    box,
    foot,
    hatch,
    key,
    key_height,
    side,
    spread,
    whole_ticks,
)
from .scene import END, START, WIDTH, XY, KeyEntry, Line, Polygon, Scene, Shape, Sign, Text

_TOP, _BOTTOM = 34, 236
_RIGHT = 318
_NUMBER = 13  # between two numbers beside the bands


@dataclass(frozen=True, slots=True)
class Band:
    """
    One sort: its name, how many at each month's end, and the style of its surface.

    A ``hatched`` band has lines across it.
    """

    name: str
    values: tuple[int, ...]
    style: str
    hatched: bool = False


def stack_view(
    title: str,
    description: str,
    months: Sequence[str],
    bands: Sequence[Band],
    side_words: str = "vessels",
) -> Scene:
    """
    Return the Scene of ``bands``, the first at the bottom, over ``months``, their names.

    Every band carries a number at its right end; the key below gives its name and its
    latest count. Raise ValueError without months.
    """
    if not months:
        raise ValueError(_("There is no month to draw."))
    entries: list[KeyEntry] = [
        (_sign(band), f"{number} {band.name}: {band.values[-1]}")
        for number, band in enumerate(bands, 1)
    ]
    scene = blank(title, description, _BOTTOM + 42 + key_height(entries[::-1]) + EDGE)
    totals = [sum(column) for column in zip(*(band.values for band in bands), strict=True)]
    ticks = whole_ticks(max([*totals, 1]))
    axis = Axis(0, ticks[-1], _BOTTOM, _TOP)
    scene.add(Text(EDGE, 14, side_words, "label-strong", anchor=START))
    side(scene, axis, ticks, right=_RIGHT)
    wide = (_RIGHT - LEFT) / len(months)
    below = [0] * len(months)
    ends = []
    for band in bands:
        above = [low + value for low, value in zip(below, band.values, strict=True)]
        if any(band.values):
            _draw(scene, axis, band, below, above)
        ends.append((axis.at(below[-1]) + axis.at(above[-1])) / 2)
        below = above
    scene.add(Line(LEFT, _BOTTOM, _RIGHT, _BOTTOM, "dimension"))
    _number(scene, bands, ends)
    places = [(LEFT + wide * (i + 0.5), month) for i, month in enumerate(months)]
    foot(scene, places, _BOTTOM + 16, _RIGHT - LEFT)
    # From the top down, as the bands lie.
    key(scene, _BOTTOM + 42, entries[::-1])
    return scene


def _draw(scene: Scene, axis: Axis, band: Band, below: Sequence[int], above: Sequence[int]) -> None:
    """Draw one band as steps, a month wide each."""
    wide = (_RIGHT - LEFT) / len(below)
    top: list[XY] = []
    bottom: list[XY] = []
    for i, (low, high) in enumerate(zip(below, above, strict=True)):
        left, right = LEFT + wide * i, LEFT + wide * (i + 1)
        top += [(left, axis.at(high)), (right, axis.at(high))]
        bottom += [(left, axis.at(low)), (right, axis.at(low))]
    scene.add(Polygon((*top, *bottom[::-1]), band.style))
    if band.hatched:
        for i, (low, high) in enumerate(zip(below, above, strict=True)):
            left = LEFT + wide * i
            scene.add(*hatch(left, axis.at(high), left + wide, axis.at(low)))


def _number(scene: Scene, bands: Sequence[Band], ends: Sequence[float]) -> None:
    """Write each band's number beside its end, where it has one."""
    there = [i for i, band in enumerate(bands) if band.values[-1]]
    heights = spread([ends[i] for i in there], _NUMBER, _TOP, _BOTTOM)
    for i, y in zip(there, heights, strict=True):
        scene.add(
            Line(_RIGHT, ends[i], _RIGHT + 16, y, "scale"),
            Text(WIDTH - EDGE, y, str(i + 1), "label-strong", SMALL, END),
        )


def _sign(band: Band) -> Sign:
    def shapes(x: float, y: float) -> list[Shape]:
        corners = (x - 9, y - 6.5, x + 9, y + 6.5)
        return [box(*corners, band.style), *(hatch(*corners) if band.hatched else ())]

    return shapes
