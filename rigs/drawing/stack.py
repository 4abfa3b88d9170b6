"""How many there were of each sort day after day, one band upon another."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from rigs.words.say import gettext as _

from .graph import (
    EDGE,
    LEFT,
    SMALL,
    Axis,
    Days,
    blank,
    box,
    days_foot,
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
_APART = 13  # between two numbers beside the bands
_FINEST = 0.25  # units: changes nearer to each other are drawn as one


@dataclass(frozen=True, slots=True)
class Band:
    """
    One sort: its ``number`` and name, how many from each day on, the style of its surface.

    A ``hatched`` band has lines across it.
    """

    number: int
    name: str
    values: tuple[int, ...]
    style: str
    hatched: bool = False


def stack_view(
    title: str,
    description: str,
    days: Sequence[date],
    until: date,
    bands: Sequence[Band],
) -> Scene:
    """
    Return the Scene of ``bands``, the first at the bottom, from the first of ``days`` on.

    Each value holds from its day to the next of ``days``, the last through the day
    ``until``. Every band carries its number at its right end; the key below gives name and
    latest count by number. Raise ValueError without days.
    """
    if not days:
        raise ValueError(_("There is no day to draw."))
    entries: list[KeyEntry] = [
        (_sign(band), f"{band.number} {band.name}: {band.values[-1]}")
        for band in sorted(bands, key=lambda band: band.number)
    ]
    scene = blank(title, description, _BOTTOM + 42 + key_height(entries) + EDGE)
    totals = [sum(column) for column in zip(*(band.values for band in bands), strict=True)]
    ticks = whole_ticks(max([*totals, 1]))
    axis = Axis(0, ticks[-1], _BOTTOM, _TOP)
    scene.add(Text(EDGE, 14, _("vessels"), "label-strong", anchor=START))
    side(scene, axis, ticks, right=_RIGHT)
    across = Days(days[0], until, LEFT, _RIGHT)
    places = _places([across.at(day) for day in days])
    below = [0] * len(days)
    ends = []
    for band in bands:
        above = [low + value for low, value in zip(below, band.values, strict=True)]
        if any(band.values):
            _draw(scene, axis, band, [(x, below[i], above[i]) for x, i in places])
        ends.append((axis.at(below[-1]) + axis.at(above[-1])) / 2)
        below = above
    scene.add(Line(LEFT, _BOTTOM, _RIGHT, _BOTTOM, "dimension"))
    _number(scene, bands, ends)
    days_foot(scene, across, _BOTTOM)
    key(scene, _BOTTOM + 42, entries)
    return scene


def _places(xs: Sequence[float]) -> list[tuple[float, int]]:
    """Return (x, number of the day) of what is drawn: of days too near each other the last."""
    found = [(xs[0], 0)]
    for i, x in enumerate(xs[1:], 1):
        if x - found[-1][0] < _FINEST:
            found[-1] = (found[-1][0], i)
        else:
            found.append((x, i))
    return found


def _draw(scene: Scene, axis: Axis, band: Band, places: Sequence[tuple[float, int, int]]) -> None:
    """Draw one band as steps, each from its place (x, from, up to) to the next."""
    top: list[XY] = []
    bottom: list[XY] = []
    rights = [*(x for x, __, __ in places[1:]), _RIGHT]
    steps = [
        (left, right, axis.at(low), axis.at(high))
        for (left, low, high), right in zip(places, rights, strict=True)
    ]
    for left, right, low, high in steps:
        top += [(left, high), (right, high)]
        bottom += [(left, low), (right, low)]
    scene.add(Polygon((*top, *bottom[::-1]), band.style))
    if band.hatched:
        for left, right, low, high in steps:
            scene.add(*hatch(left, high, right, low))


def _number(scene: Scene, bands: Sequence[Band], ends: Sequence[float]) -> None:
    """Write each band's number beside its end, where it has one."""
    there = [i for i, band in enumerate(bands) if band.values[-1]]
    heights = spread([ends[i] for i in there], _APART, _TOP, _BOTTOM)
    for i, y in zip(there, heights, strict=True):
        scene.add(
            Line(_RIGHT, ends[i], _RIGHT + 16, y, "scale"),
            Text(WIDTH - EDGE, y, str(bands[i].number), "label-strong", SMALL, END),
        )


def _sign(band: Band) -> Sign:
    def shapes(x: float, y: float) -> list[Shape]:
        corners = (x - 9, y - 6.5, x + 9, y + 6.5)
        return [box(*corners, band.style), *(hatch(*corners) if band.hatched else ())]

    return shapes
