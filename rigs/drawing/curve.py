"""How long until it happens: the share to whom it has, as a rising curve with its band."""

from collections.abc import Callable, Sequence
from typing import NamedTuple

from rigs.words.say import gettext as _
from rigs.words.shares import percent_number

from .graph import (
    EDGE,
    LEFT,
    RIGHT,
    SMALL,
    Axis,
    blank,
    foot,
    key,
    key_height,
    side,
    whole_ticks,
)
from .lettering import text_width
from .scene import END, START, WIDTH, XY, KeyEntry, Line, Polygon, Polyline, Scene, Shape, Text

_TOP, _BOTTOM = 34, 216


class CurvePoint(NamedTuple):
    """
    From ``time`` on the share ``happened``, between ``low`` and ``high``.

    The two ends are None where there is no interval.
    """

    time: float
    happened: float
    low: float | None
    high: float | None


class CurveFigure(NamedTuple):
    """
    What a curve shows: ``points`` in the order of their times, up to ``end``.

    ``end`` is the last time at which anybody was followed: nothing is drawn beyond. ``most``
    is how far the axis reaches, None for ``end``. A curve is level between its points, or,
    if it was ``read`` at them alone, a straight line from one to the next.

    Times are in ``unit``; ``event`` says what has happened by then. ``waiting`` is a
    function of a time to how many were still followed just before it; it is asked at the
    marks along the foot and may return words. ``median`` is None if it was not reached.
    """

    points: Sequence[CurvePoint]
    end: float
    waiting: Callable[[int], object]
    event: str
    median: float | None = None
    unit: str = "months"
    most: float | None = None
    read: bool = False


def curve_view(title: str, description: str, figure: CurveFigure) -> Scene:
    """
    Return the Scene of ``figure``, its median marked if there is one.

    Raise ValueError for no time at all.
    """
    median = figure.median
    ticks = whole_ticks(max(figure.most or 0, figure.end), 5)
    across = Axis(0, ticks[-1], LEFT, WIDTH - RIGHT)
    up = Axis(0, 1, _BOTTOM, _TOP)
    entries: list[KeyEntry] = [
        (_line_sign, _("{event} by then").format(event=figure.event)),
    ]
    if any(point.low is not None for point in figure.points):
        entries.append((_band_sign, _("where the true share is likely to lie")))
    if median is not None:
        entries.append((_median_sign, _("by here, half of them")))
    scene = blank(title, description, _BOTTOM + 76 + key_height(entries) + EDGE)
    scene.add(Text(EDGE, 14, "of 100 vessels", "label-strong", anchor=START))
    side(scene, up, [0, 0.25, 0.5, 0.75, 1], percent_number)
    _bands(scene, across, up, figure)
    scene.add(Polyline(_steps(across, up, figure), "curve"))
    if median is not None:
        x = across.at(median)
        scene.add(Line(x, up.at(0.5), x, _BOTTOM, "curve-median"))
    scene.add(Line(LEFT, _BOTTOM, WIDTH - RIGHT, _BOTTOM, "dimension"))
    foot(scene, [(across.at(tick), str(tick)) for tick in ticks], _BOTTOM + 15, WIDTH)
    scene.add(
        Text(
            WIDTH - EDGE,
            14,
            _("{unit} from first contact").format(unit=figure.unit),
            size=SMALL,
            anchor=END,
        )
    )
    _still_followed(scene, across, ticks, figure.waiting)
    key(scene, _BOTTOM + 76, entries)
    return scene


def _steps(across: Axis, up: Axis, figure: CurveFigure) -> tuple[XY, ...]:
    """Return the corners of the curve from nought to its ``end``."""
    corners = [(across.at(0), up.at(0))]
    for point in figure.points:
        x = across.at(point.time)
        if not figure.read:
            corners.append((x, corners[-1][1]))
        corners.append((x, up.at(point.happened)))
    return (*corners, (across.at(figure.end), corners[-1][1]))


def _bands(scene: Scene, across: Axis, up: Axis, figure: CurveFigure) -> None:
    """Draw the intervals, from the first that there is to the ``end``."""
    if figure.read:
        _slanting_band(scene, across, up, figure)
        return
    ends = [*(point.time for point in figure.points[1:]), figure.end]
    for point, end in zip(figure.points, ends, strict=False):
        if point.low is not None and point.high is not None and end > point.time:
            left, right = across.at(point.time), across.at(end)
            top, bottom = up.at(point.high), up.at(point.low)
            corners = ((left, top), (right, top), (right, bottom), (left, bottom))
            scene.add(Polygon(corners, "curve-band"))


def _slanting_band(scene: Scene, across: Axis, up: Axis, figure: CurveFigure) -> None:
    """Draw the intervals as one band; where there is none it is as thin as the curve."""
    points = [CurvePoint(0, 0, None, None), *figure.points]
    if all(point.low is None for point in points):
        return
    ends = [
        (point.happened, point.happened) if None in (point.low, point.high) else point[2:]
        for point in points
    ]
    xs = [*(across.at(point.time) for point in points), across.at(figure.end)]
    ends.append(ends[-1])
    top = [(x, up.at(high or 0)) for x, (_low, high) in zip(xs, ends, strict=True)]
    bottom = [(x, up.at(low or 0)) for x, (low, _high) in zip(xs, ends, strict=True)]
    scene.add(Polygon((*top, *bottom[::-1]), "curve-band"))


def _still_followed(
    scene: Scene, across: Axis, ticks: Sequence[int], waiting: Callable[[int], object]
) -> None:
    """Write how many were still followed under the marks along the foot."""
    scene.add(Text(EDGE, _BOTTOM + 34, _("vessels still followed:"), "label-quiet", SMALL, START))
    y, last = _BOTTOM + 50, 0.0
    for tick in ticks:
        words = str(waiting(tick))
        half = text_width(words, SMALL) / 2
        x = min(max(across.at(tick), half + 2), WIDTH - half - 2)
        if x - half > last:
            scene.add(Text(x, y, words, "label-quiet", SMALL))
            last = x + half + 6


def _line_sign(x: float, y: float) -> list[Shape]:
    return [Line(x - 9, y, x + 9, y, "curve")]


def _band_sign(x: float, y: float) -> list[Shape]:
    corners = ((x - 9, y - 6.5), (x + 9, y - 6.5), (x + 9, y + 6.5), (x - 9, y + 6.5))
    return [Polygon(corners, "curve-band")]


def _median_sign(x: float, y: float) -> list[Shape]:
    return [Line(x, y - 8, x, y + 8, "curve-median")]
