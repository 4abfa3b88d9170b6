"""Ratios with their intervals, one below another on a logarithmic axis."""

from collections.abc import Callable, Sequence
from typing import NamedTuple

from rigs.words.say import gettext as _

from .graph import EDGE, ROW, SMALL, Axis, blank, foot, key, key_height, ratio_ticks
from .lettering import wrap
from .marks import diamond
from .scene import END, LETTER, START, WIDTH, Circle, KeyEntry, Line, Polygon, Scene, Shape, Text

_TOP = 52
_DOT = 5
_GAP = 16


class Estimate(NamedTuple):
    """A ratio above nought and the ends of its interval, None where there is none."""

    value: float
    low: float | None = None
    high: float | None = None


class RatioRow(NamedTuple):
    """A name with up to two Estimates, the first by a dot, the second by a hollow diamond."""

    name: str
    first: Estimate | None
    second: Estimate | None = None


def ratios_view(
    title: str,
    description: str,
    rows: Sequence[RatioRow],
    sides: tuple[str, str],
    signs: tuple[str, str],
) -> Scene:
    """
    Return the Scene of ``rows``, from the top down, about a line at 1.

    ``sides`` are the words below and above 1, ``signs`` what the dot and the diamond
    stand for. Raise ValueError for a ratio that is not above zero.
    """
    entries: list[KeyEntry] = list(zip((_dot_sign, _diamond_sign), signs, strict=True))
    names = [wrap(row.name, WIDTH - 2 * EDGE, LETTER) for row in rows]
    heights = [ROW * len(name) + 2 * _GAP + 8 for name in names]
    bottom = _TOP + sum(heights)
    scene = blank(title, description, bottom + 44 + key_height(entries) + EDGE)
    told = [
        end
        for row in rows
        for each in (row.first, row.second)
        if each is not None
        for end in each
        if end is not None
    ]
    if any(value <= 0 for value in told):
        raise ValueError(_("A ratio on this axis is above zero."))
    ticks = ratio_ticks(min(told, default=1), max(told, default=1))
    axis = Axis(ticks[0], ticks[-1], EDGE + 14, WIDTH - EDGE - 14, is_log=True)
    one = axis.at(1)
    for tick in ticks:
        scene.add(Line(axis.at(tick), _TOP - 6, axis.at(tick), bottom, "net"))
    scene.add(Line(one, _TOP - 10, one, bottom, "center-line"))
    scene.add(
        Text(EDGE, 14, sides[0], "label-strong", SMALL, START),
        Text(WIDTH - EDGE, 30, sides[1], "label-strong", SMALL, END),
    )
    y: float = _TOP
    for row, name, height in zip(rows, names, heights, strict=True):
        at = y + 10
        for line in name:
            scene.add(Text(EDGE, at, line, anchor=START, halo=True))
            at += ROW
        _estimate(scene, axis, at, row.first, _dot)
        _estimate(scene, axis, at + _GAP, row.second, _diamond)
        y += height
    foot(scene, [(axis.at(tick), _ratio(tick)) for tick in ticks], bottom + 15, WIDTH)
    key(scene, bottom + 44, entries)
    return scene


def _ratio(value: float) -> str:
    return f"{value:g}"


def _estimate(
    scene: Scene,
    axis: Axis,
    y: float,
    estimate: Estimate | None,
    mark: Callable[[float, float], Shape],
) -> None:
    if estimate is None:
        return
    if estimate.low is not None and estimate.high is not None:
        left, right = axis.at(estimate.low), axis.at(estimate.high)
        scene.add(
            Line(left, y, right, y, "interval"),
            Line(left, y - 4, left, y + 4, "interval"),
            Line(right, y - 4, right, y + 4, "interval"),
        )
    scene.add(mark(axis.at(estimate.value), y))


def _dot(x: float, y: float) -> Circle:
    return Circle(x, y, _DOT, "dropper")


def _diamond(x: float, y: float) -> Polygon:
    return diamond(x, y, _DOT + 1)


def _dot_sign(x: float, y: float) -> list[Shape]:
    return [Line(x - 9, y, x + 9, y, "interval"), _dot(x, y)]


def _diamond_sign(x: float, y: float) -> list[Shape]:
    return [Line(x - 9, y, x + 9, y, "interval"), _diamond(x, y)]
