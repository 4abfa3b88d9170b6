"""The net seen from the side under tow: what goes over the footrope and what under."""

from collections.abc import Sequence
from itertools import pairwise
from math import hypot, pi, sin

from rigs.words.gear import Rig
from rigs.words.say import gettext as _
from rigs.words.units import feet_inches

from . import creatures
from .netting import weave
from .scene import (
    END,
    LETTER,
    MIDDLE,
    START,
    WIDTH,
    XY,
    Circle,
    Line,
    Polygon,
    Polyline,
    Scene,
    Shape,
    Text,
)

_BED = 252
_HEIGHT = 296
_WING = (84, 196)  # where the footrope starts, at the wing end
_QUARTER = (214, 204)
_HEAD_WING = (84, 164)
_HEAD_TOP = (170, 84)
_TAIL = (366, 154)
_DROPPERS = 5


def _between(a: float, b: float, c: float, d: float, t: float) -> float:
    """Return what lies the share ``t`` of the way from ``b`` to ``c``, smoothly."""
    return (
        0.5 * (2 * b + (c - a) * t + (2 * a - 5 * b + 4 * c - d) * t**2)
        + 0.5 * (3 * b - a - 3 * c + d) * t**3
    )


def _curve(points: Sequence[XY], steps: int = 10) -> tuple[XY, ...]:
    """Return a smooth line through ``points`` (Catmull-Rom, the ends repeated)."""
    padded = [points[0], *points, points[-1]]
    line = []
    for around in zip(padded, padded[1:], padded[2:], padded[3:], strict=False):
        (x0, y0), (x1, y1), (x2, y2), (x3, y3) = around
        for i in range(steps):
            t = i / steps
            line.append((_between(x0, x1, x2, x3, t), _between(y0, y1, y2, y3, t)))
    return (*line, points[-1])


def _along(line: Sequence[XY], share: float) -> XY:
    """Return the point that lies ``share`` of the way along ``line``, by its length."""
    runs = [hypot(x2 - x1, y2 - y1) for (x1, y1), (x2, y2) in pairwise(line)]
    left = share * sum(runs)
    for run, ((x1, y1), (x2, y2)) in zip(runs, pairwise(line), strict=True):
        if left <= run and run:
            return x1 + (x2 - x1) * left / run, y1 + (y2 - y1) * left / run
        left -= run
    return line[-1]


def side_view(rig: Rig, height: float | None = None, life: bool = True) -> Scene:
    """
    Return the Scene of ``rig`` from the side under tow, ahead to the left.

    It is a picture of how the parts hang, not to scale. ``height`` is written in as
    the footrope's height above the bottom, in metres, if given; ``life`` says whether
    fish and bottom life are drawn. A sweep is drawn if the rig has one.
    """
    return _Side(rig, height, life).scene()


class _Side:
    """A side view in the making."""

    def __init__(self, rig: Rig, height: float | None, life: bool) -> None:
        self.rig, self.height, self.life = rig, height, life
        self.parts: list[Shape] = []
        self.feet: list[XY] = []  # the droppers' lower ends
        self.head = _curve((_HEAD_WING, (120, 116), _HEAD_TOP))
        self.foot = _curve((_WING, (140, 202), _QUARTER))

    def scene(self) -> Scene:
        self.parts.append(Polygon(((0, 0), (WIDTH, 0), (WIDTH, _HEIGHT), (0, _HEIGHT)), "water"))
        self._net()
        self._bottom()
        self._wires()
        self._chains()
        if self.life:
            self._life()
        self._lettering()
        if self.height is not None:
            self._written_height(self.height)
        return Scene(
            WIDTH, _HEIGHT, _("The net from the side, under tow"), self._words(), self.parts
        )

    def _words(self) -> str:
        words = [
            _(
                "Not to scale; towed to the left. Floats lift the headrope. The footrope hangs "
                "below and behind it, clear of the bottom, and droppers trail from it aft"
            )
        ]
        if self.rig.sweep is not None:
            words.append(_(" to a sweep that drags on the bottom."))
        else:
            words.append(_(" with only their ends on the bottom."))
        if self.height is not None:
            words.append(
                _(" The footrope is {feet_inches} off the bottom.").format(
                    feet_inches=feet_inches(self.height, 2)
                )
            )
        if self.life:
            words.append(
                _(
                    " Fish that rise go over the footrope into the net; flatfish, crabs and "
                    "lobsters stay down and pass under."
                )
            )
        return "".join(words)

    def _net(self) -> None:
        upper = _curve((_HEAD_TOP, (230, 106), (290, 142), _TAIL))
        lower = _curve((_QUARTER, (262, 194), (306, 176), (_TAIL[0], _TAIL[1] + 16)))
        outline = (*self.head, *upper, *reversed(lower), *reversed(self.foot))
        self.parts.append(Polygon(outline, "netting"))
        top, low = (*self.head, *upper), (*self.foot, *lower)
        columns, rows = 22, 10

        def knot(i: int, j: int) -> XY:
            (x1, y1), (x2, y2) = _along(top, i / columns), _along(low, i / columns)
            return x1 + (x2 - x1) * j / rows, y1 + (y2 - y1) * j / rows

        self.parts += weave(knot, columns, rows)
        for edge in (upper, lower):
            self.parts.append(Polyline(edge, "net"))

    def _bottom(self) -> None:
        ground = [(x, _BED + 1.2 * sin(x / 23 * pi)) for x in range(0, WIDTH + 1, 6)]
        self.parts.append(
            Polygon(((-4, _HEIGHT + 4), (-4, _BED), *ground, (WIDTH + 4, _HEIGHT + 4)), "seabed")
        )
        for i in range(16):
            self.parts.append(Circle(11 + i * 22.5, _BED + 8 + (i * 7) % 5, 0.8, "sand"))

    def _wires(self) -> None:
        joint = (44, 208)
        self.parts += [
            Line(-4, 236, *joint, "cable"),
            Line(*joint, *_HEAD_WING, "leg"),
            Line(*joint, *_WING, "leg"),
        ]

    def _chains(self) -> None:
        for i in range(_DROPPERS):
            x, y = _along(self.foot, 0.1 + 0.9 * i / (_DROPPERS - 1))
            bend = (x + 20, _BED - 8)
            end = (x + 42, _BED)
            chain = _curve(((x, y), (x + 9, y + 24), bend, (x + 32, _BED - 1), end), 5)
            self.feet.append(end)
            self.parts.append(Polyline(chain, "dropper-chain"))
        if self.rig.sweep is not None:
            ends = [(44, 208), (70, 238), (100, _BED - 1), *self.feet]
            self.parts.append(Polyline(tuple(ends), "sweep"))
        self.parts.append(Polyline(self.head, "headrope"))
        self.parts.append(Polyline(self.foot, "footrope"))
        for i in range(_DROPPERS):
            x, y = _along(self.foot, 0.1 + 0.9 * i / (_DROPPERS - 1))
            self.parts.append(Circle(x, y, 3.6, "dropper"))
        for i in range(7):
            x, y = _along(self.head, i / 6)
            self.parts.append(Circle(x, y - 4, 5, "float"))

    def _life(self) -> None:
        for x, y, length, tilt in (
            (112, 178, 27, 0.34),
            (134, 150, 26, 0.3),
            (158, 174, 28, 0.16),
            (186, 142, 26, 0.1),
            (222, 160, 27, 0.0),
            (262, 152, 25, -0.06),
        ):
            self.parts += creatures.fish(x, y, length, tilt)
        self.parts += creatures.flatfish(30, _BED + 2, 34)
        self.parts += creatures.crab(176, _BED - 6, 22)
        self.parts += creatures.lobster(334, _BED - 4, 36)
        self.parts += creatures.flatfish(276, _BED + 13, 30)

    def _lettering(self) -> None:
        self.parts += [
            Line(52, 18, 20, 18, "arrow"),
            Polygon(((12, 18), (24, 12), (24, 24)), "arrow-head"),
            Text(60, 18, _("towed this way"), "label-quiet", LETTER, START),
            Text(182, 72, _("headrope and floats"), "label", LETTER, START),
            Text(40, 176, "legs", "label", LETTER, END),
            Line(42, 180, 58, 191, "dimension"),
            Text(236, 212, "footrope", "label-strong", LETTER, START),
            Text(245, 230, "droppers", "label", LETTER, START),
        ]
        if self.rig.sweep is not None:
            self.parts.append(Text(98, _BED + 14, "sweep", "label-strong", LETTER, START))
        if self.life:
            self.parts += [
                Text(352, 94, _("fish that rise"), "label", LETTER, END),
                Text(352, 110, _("go over and in"), "label", LETTER, END),
                Text(
                    WIDTH / 2,
                    _BED + 32,
                    _("flatfish, crabs, lobsters pass under"),
                    "label",
                    LETTER,
                    MIDDLE,
                ),
            ]

    def _written_height(self, height: float) -> None:
        x, top = 78, _along(self.foot, 0)[1] + 4
        self.parts += [
            Line(x, top, x, _BED - 2, "dimension"),
            Line(x - 4, top, x + 4, top, "dimension"),
            Line(x - 4, _BED - 2, x + 4, _BED - 2, "dimension"),
            Text(x - 6, 238, feet_inches(height, 2), "label-strong", LETTER, END),
        ]
