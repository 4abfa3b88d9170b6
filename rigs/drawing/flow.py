"""How many came and how many left, month by month: up and down from one line."""

from collections.abc import Sequence
from datetime import date, timedelta
from typing import NamedTuple

from rigs.words.say import gettext as _

from .graph import (
    EDGE,
    LEFT,
    RIGHT,
    Axis,
    Days,
    blank,
    box,
    days_foot,
    hatch,
    key,
    key_height,
    side,
    whole_ticks,
)
from .scene import START, WIDTH, KeyEntry, Line, Scene, Shape, Text

_TOP, _BOTTOM = 34, 216


class Flow(NamedTuple):
    """Counts of those who ``came`` and ``left``, month by month; ``words`` name the two."""

    came: Sequence[int]
    left: Sequence[int]
    words: tuple[str, str] = ("came", "left")


def flow_view(
    title: str, description: str, months: Sequence[tuple[date, date]], flow: Flow
) -> Scene:
    """
    Return the Scene of ``flow`` over ``months``, each by its first and last day.

    Those who came are drawn upwards in one surface, those who left downwards, hatched.
    Raise ValueError without months.
    """
    came, left, words = flow
    if not months:
        raise ValueError(_("There is no month to draw."))
    entries: list[KeyEntry] = [
        (_came_sign, _("up: {words}, {sum} in all").format(words=words[0], sum=sum(came))),
        (_left_sign, _("down: {words}, {sum} in all").format(words=words[1], sum=sum(left))),
    ]
    scene = blank(title, description, _BOTTOM + 42 + key_height(entries) + EDGE)
    up, down = whole_ticks(max([*came, 1]), 3), whole_ticks(max([*left, 1]), 3)
    # One step on both sides, so that equal columns are equally long.
    step = max(up[1], down[1])
    high = step * -(-max([*came, 1]) // step)
    low = -step * -(-max([*left, 1]) // step)
    axis = Axis(low, high, _BOTTOM, _TOP)
    right = WIDTH - RIGHT
    scene.add(Text(EDGE, 14, _("vessels a month"), "label-strong", anchor=START))
    side(scene, axis, range(low, high + 1, step), lambda tick: str(abs(tick)), right)
    across = Days(months[0][0], months[-1][1], LEFT, right)
    nought = axis.at(0)
    for (first, last), ups, downs in zip(months, came, left, strict=True):
        start, end = across.at(first), across.at(last + timedelta(days=1))
        gap = (end - start) * 0.12
        start, end = start + gap, end - gap
        if ups:
            scene.add(box(start, axis.at(ups), end, nought, "band-1"))
        if downs:
            scene.add(box(start, nought, end, axis.at(-downs), "band-7"))
            scene.add(*hatch(start, nought, end, axis.at(-downs)))
    scene.add(Line(LEFT, nought, right, nought, "dimension"))
    days_foot(scene, across, _BOTTOM)
    key(scene, _BOTTOM + 42, entries)
    return scene


def _came_sign(x: float, y: float) -> list[Shape]:
    return [box(x - 9, y - 6.5, x + 9, y + 6.5, "band-1")]


def _left_sign(x: float, y: float) -> list[Shape]:
    corners = (x - 9, y - 6.5, x + 9, y + 6.5)
    return [box(*corners, "band-7"), *hatch(*corners)]
