"""What the charts share: heights up the side, the practice of the trade as a band."""

from collections.abc import Iterable

from rigs.physics.practice import RuleOfThumb
from rigs.words.say import gettext as _
from rigs.words.units import INCH, feet_inches

from .scene import END, START, KeyEntry, Line, Polygon, Scene, Text

LEFT, RIGHT = 64, 14
_STEPS = (3, 6, 12, 24, 48)  # inches
_MOST_STEPS = 7


class Scale:
    """Maps heights in metres, from nought to ``most``, to the span ``bottom`` to ``top``."""

    def __init__(self, most: float, top: float, bottom: float) -> None:
        self.step = (
            next((step for step in _STEPS if most / INCH / step <= _MOST_STEPS), _STEPS[-1]) * INCH
        )
        self.most = max(1, -int(-most / self.step // 1)) * self.step
        self.top, self.bottom = top, bottom

    def y(self, height: float) -> float:
        """Return the drawing's y of ``height``, held inside the chart."""
        share = min(max(height / self.most, 0.0), 1.0)
        return self.bottom - share * (self.bottom - self.top)

    @property
    def ticks(self) -> list[float]:
        """The heights in metres to write up the side."""
        return [self.step * i for i in range(round(self.most / self.step) + 1)]


def frame(scene: Scene, scale: Scale, window: RuleOfThumb) -> None:
    """Draw the side and its heights on ``scene``, and ``window``, a RuleOfThumb, as a band."""
    left, right = LEFT, scene.width - RIGHT
    scene.add(band(left, right, scale.y(window.high), scale.y(window.low)))
    for height in scale.ticks:
        y = scale.y(height)
        scene.add(
            Line(left, y, right, y, "net"),
            Text(left - 6, y, feet_inches(height, 1) if height else "0", anchor=END),
        )
    scene.add(Line(left, scale.top, left, scale.bottom, "dimension"))


def band(left: float, right: float, top: float, bottom: float) -> Polygon:
    """Return the band in which the trade wants the footrope."""
    return Polygon(((left, top), (right, top), (right, bottom), (left, bottom)), "netting")


def band_key(window: RuleOfThumb) -> KeyEntry:
    """Return the entry of the key for the band of ``window``."""
    return (
        lambda x, y: [band(x - 9, x + 9, y - 6, y + 6)],
        _("{text}: the height by custom").format(text=window.text),
    )


def key_line(scene: Scene, y: float, entries: Iterable[KeyEntry]) -> None:
    """Write ``entries``, pairs of (shape maker at (x, y), words), down from ``y``."""
    for i, (shape, words) in enumerate(entries):
        at = y + 19 * i
        scene.add(*shape(LEFT - 30, at), Text(LEFT - 14, at, words, anchor=START))
