"""Ratios with their intervals, one below another on a logarithmic axis."""

from collections.abc import Sequence
from math import isfinite, isnan
from typing import NamedTuple

from rigs.words.say import gettext as _

from .graph import EDGE, ROW, SMALL, Axis, blank, foot, key, key_height, ratio_ticks
from .lettering import wrap
from .scene import END, LETTER, START, WIDTH, Circle, KeyEntry, Line, Polygon, Scene, Shape, Text

_TOP = 52
_DOT = 5
_GAP = 16
_LEAST, _MOST = 0.01, 10
_MOST_SAID = 6
_TENS = (0.01, 0.1, 1, 10, 100)


class Estimate(NamedTuple):
    """
    A ratio and the ends of its interval, None where there is none.

    A ratio of nothing, or of something to nothing (infinity), lies beyond the axis.
    """

    value: float
    low: float | None = None
    high: float | None = None


class RatioRow(NamedTuple):
    """A name with its Estimate, and a ``note`` that is written under the name."""

    name: str
    estimate: Estimate
    note: str = ""


def ratios_view(
    title: str,
    description: str,
    rows: Sequence[RatioRow],
    sides: tuple[str, str],
    signs: tuple[str, str],
) -> Scene:
    """
    Return the Scene of ``rows``, from the top down, about a line at 100 percent.

    ``sides`` are the words below and above it, ``signs`` what the dot stands for and what
    an arrow at the edge does: the ratio, or an end of its interval, lies beyond. Raise
    ValueError for a ratio that is below zero.
    """
    written = [_lines(row) for row in rows]
    heights = [ROW * len(lines) + _GAP + 8 for lines in written]
    bottom = _TOP + sum(heights)
    axis, ticks = _axis(rows)
    entries: list[KeyEntry] = [(_dot_sign, signs[0])]
    if any(_beyond(axis, end) for row in rows for end in row.estimate if end is not None):
        entries.append((_arrow_sign, signs[1]))
    scene = blank(title, description, bottom + 44 + key_height(entries) + EDGE)
    for tick in ticks:
        scene.add(Line(axis.at(tick), _TOP - 6, axis.at(tick), bottom, "net"))
    scene.add(
        Line(axis.at(1), _TOP - 10, axis.at(1), bottom, "center-line"),
        Text(EDGE, 14, sides[0], "label-strong", SMALL, START),
        Text(WIDTH - EDGE, 30, sides[1], "label-strong", SMALL, END),
    )
    y: float = _TOP
    for row, lines, height in zip(rows, written, heights, strict=True):
        at = y + 10
        for words, style, size in lines:
            scene.add(Text(EDGE, at, words, style, size, START, halo=True))
            at += ROW
        _estimate(scene, axis, at, row.estimate)
        y += height
    foot(scene, [(axis.at(tick), f"{tick * 100:g}%") for tick in _said(ticks)], bottom + 15, WIDTH)
    key(scene, bottom + 44, entries)
    return scene


def _lines(row: RatioRow) -> list[tuple[str, str, float]]:
    """Return what is written over an estimate, line by line, with its style and size."""
    room = WIDTH - 2 * EDGE
    name = [(line, "label", LETTER) for line in wrap(row.name, room, LETTER)]
    note = wrap(row.note, room, SMALL) if row.note else []
    return [*name, *((line, "label-quiet", SMALL) for line in note)]


def _axis(rows: Sequence[RatioRow]) -> tuple[Axis, list[float]]:
    """Return the Axis that holds all of ``rows`` that it can, and its ticks."""
    values = [row.estimate.value for row in rows]
    ends = [end for row in rows for end in row.estimate[1:] if end is not None]
    if any(value < 0 or isnan(value) for value in [*values, *ends]):
        raise ValueError(_("A ratio is not below zero."))
    # An end that says nothing, far out, is an arrow: it would press all others together.
    drawn = [min(max(end, _LEAST), _MOST) for end in ends]
    drawn += [value for value in values if value > 0 and isfinite(value)]
    ticks = ratio_ticks(min(drawn, default=1), max(drawn, default=1))
    return Axis(ticks[0], ticks[-1], EDGE + 14, WIDTH - EDGE - 14, is_log=True), ticks


def _said(ticks: Sequence[float]) -> list[float]:
    """Return those of ``ticks`` that are written out: all, or where they are many, the tens."""
    return [tick for tick in ticks if len(ticks) <= _MOST_SAID or tick in _TENS]


def _beyond(axis: Axis, value: float) -> int:
    """Return -1 if ``value`` lies before the axis, 1 if after it, else 0."""
    return -1 if value < axis.low else int(value > axis.high)


def _estimate(scene: Scene, axis: Axis, y: float, estimate: Estimate) -> None:
    if estimate.low is not None and estimate.high is not None:
        ends = (estimate.low, estimate.high)
        scene.add(Line(axis.at(ends[0]), y, axis.at(ends[1]), y, "interval"))
        for end in ends:
            x, side = axis.at(end), _beyond(axis, end)
            scene.add(_arrow(x, y, side) if side else Line(x, y - 4, x, y + 4, "interval"))
    side = _beyond(axis, estimate.value)
    x = axis.at(estimate.value)
    scene.add(_arrow(x, y, side) if side else Circle(x, y, _DOT, "dropper"))


def _arrow(x: float, y: float, side: int) -> Polygon:
    """Return an arrow head at (x, y) that points out of the axis on ``side``, -1 or 1."""
    return Polygon(((x + 10 * side, y), (x, y - 6), (x, y + 6)), "dropper")


def _dot_sign(x: float, y: float) -> list[Shape]:
    return [Line(x - 9, y, x + 9, y, "interval"), Circle(x, y, _DOT, "dropper")]


def _arrow_sign(x: float, y: float) -> list[Shape]:
    return [_arrow(x - 5, y, 1)]
