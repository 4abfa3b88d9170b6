"""Heights and bottom animals tow after tow."""

from collections.abc import Sequence

from rigs.physics.practice import RuleOfThumb
from rigs.words.say import gettext as _
from rigs.words.shares import percent, percent_sign
from rigs.words.units import feet_inches

from .chart import LEFT, RIGHT, Scale, band_key, frame, key_line
from .flown import TowFlown
from .scene import END, START, WIDTH, Circle, Line, Polygon, Polyline, Scene, Text

_TOP, _BOTTOM = 24, 170
_SHARES_TOP, _SHARES_BOTTOM = 226, 316
_DOT = 3.6


def trend_view(heights: Sequence[TowFlown], window: RuleOfThumb, limit: float) -> Scene:
    """
    Return the Scene of one net's tows in the order they were made.

    ``heights`` are of one tow at least; ``window`` the
    practice.RuleOfThumb for the height; ``limit`` the share of the bycatch standard.
    """
    first, last = heights[0], heights[-1]
    share = last.bottom_share
    words = _(
        "{heights} tow{value}. First {feet_inches}, last {feet_inches2} over the bottom."
    ).format(
        heights=len(heights),
        value="s" * (len(heights) > 1),
        feet_inches=feet_inches(first.model, 1),
        feet_inches2=feet_inches(last.model, 1),
    )
    if share is not None:
        words += _(" Bottom animals in the last tow: {share} of the catch.").format(
            share=percent(share, 1)
        )
    scene = Scene(WIDTH, _SHARES_BOTTOM + 128, _("Heights and catch, tow by tow"), words)
    scene.add(Polygon(((0, 0), (WIDTH, 0), (WIDTH, scene.height), (0, scene.height)), "paper"))
    gap = (WIDTH - RIGHT - LEFT) / len(heights)
    xs = [LEFT + gap * (i + 0.5) for i in range(len(heights))]
    _heights(scene, xs, heights, window)
    _shares(scene, xs, [each.bottom_share for each in heights], limit)
    _numbers(scene, xs)
    key_line(
        scene,
        _SHARES_BOTTOM + 50,
        (
            (lambda x, y: [Circle(x, y, _DOT, "dropper")], _("worked out under tow")),
            (lambda x, y: [Line(x - 8, y, x + 8, y, "ghost")], _("length minus shine")),
            band_key(window),
            (
                lambda x, y: [Line(x - 8, y, x + 8, y, "fault")],
                _("the bycatch standard, {limit}").format(limit=percent_sign(limit)),
            ),
        ),
    )
    return scene


def _heights(
    scene: Scene, xs: Sequence[float], heights: Sequence[TowFlown], window: RuleOfThumb
) -> None:
    most = max(window.high, *(each.high for each in heights), *(each.rule for each in heights))
    scale = Scale(most, _TOP, _BOTTOM)
    scene.add(Text(LEFT, 10, _("Height of the footrope"), "label-strong", anchor=START))
    frame(scene, scale, window)
    for x, each in zip(xs, heights, strict=True):
        scene.add(Line(x, scale.y(each.low), x, scale.y(each.high), "dimension"))
    for style, attribute in (("ghost", "rule"), ("footrope", "model")):
        line = tuple(
            (x, scale.y(getattr(each, attribute))) for x, each in zip(xs, heights, strict=True)
        )
        if len(line) == 1:
            ((x, y),) = line
            line = ((x - 8, y), (x + 8, y))
        scene.add(Polyline(line, style))
    for x, each in zip(xs, heights, strict=True):
        scene.add(Circle(x, scale.y(each.model), _DOT, "dropper"))


def _shares(
    scene: Scene, xs: Sequence[float], shares: Sequence[float | None], limit: float
) -> None:
    """Draw the share of bottom animals of each tow as a bar, and the standard as a line."""
    right = WIDTH - RIGHT
    most = max(2 * limit, *(share for share in shares if share is not None), 0.0)

    def y(share: float) -> float:
        return _SHARES_BOTTOM - share / most * (_SHARES_BOTTOM - _SHARES_TOP)

    scene.add(
        Text(LEFT, _SHARES_TOP - 16, _("Bottom animals in the catch"), "label-strong", anchor=START)
    )
    for tick in (0.0, limit, most):
        scene.add(Text(LEFT - 6, y(tick), percent_sign(tick), anchor=END))
    half = min(8.0, (right - LEFT) / len(xs) * 0.35)
    for x, share in zip(xs, shares, strict=True):
        if share is not None:
            bar = (
                (x - half, y(share)),
                (x + half, y(share)),
                (x + half, _SHARES_BOTTOM),
                (x - half, _SHARES_BOTTOM),
            )
            scene.add(Polygon(bar, "fish"))
    scene.add(
        Line(LEFT, _SHARES_BOTTOM, right, _SHARES_BOTTOM, "dimension"),
        Line(LEFT, y(limit), right, y(limit), "fault"),
    )


def _numbers(scene: Scene, xs: Sequence[float]) -> None:
    """Number the tows along the foot, as many as find room."""
    every = max(1, -(-len(xs) * 22 // int(WIDTH - RIGHT - LEFT)))
    for i, x in enumerate(xs):
        if i % every == 0:
            scene.add(Text(x, _SHARES_BOTTOM + 17, str(i + 1)))
    scene.add(Text(LEFT - 6, _SHARES_BOTTOM + 17, "tow", "label-quiet", anchor=END))
