"""A net in flight seen from above, towed up the drawing: how it spreads."""

import numpy as np

from rigs.physics.flight import Flown
from rigs.words.gear import PORT, SIDES, STARBOARD
from rigs.words.say import gettext as _
from rigs.words.units import FOOT

from .. import marks
from ..scene import END, LETTER, START, WIDTH, Line, Polygon, Scene, Shape, Text
from . import parts
from .changes import moved_text
from .lens import Lens
from .places import Places, nets
from .whole import Below, whole

_TOP, _FOOT = 44, 14
_TALL = 430  # for the length from the legs' start to the codend
_SIDE = 12


def flight_from_above(
    before: Flown, after: Flown | None = None, *, with_heights: bool = True
) -> Scene:
    """
    Return the Scene of a net in flight from above, to scale: port left, from legs to codend.

    With ``after`` that is what is drawn, and ``before`` it is dashed. How far apart the wing
    ends are is written, and by how much that changes; without ``with_heights`` only the change.
    """
    return _Above(before, after, with_heights).scene()


class _Above:
    """A view from above in the making."""

    def __init__(self, before: Flown, after: Flown | None, with_heights: bool) -> None:
        self.with_heights = with_heights
        self.net, self.old = nets(before, after)
        drawn = (self.net, self.old or self.net)
        tops = [each.legs(side, "top")[0] for each in drawn for side in SIDES]
        start = min(float(each[0]) for each in tops)
        end = max(float(each.codend[0]) for each in drawn)
        out = max(abs(float(each[1])) for each in tops)
        scale = min(_TALL / (end - start), (WIDTH / 2 - _SIDE) / out)
        self.foot = _TOP + (end - start) * scale + _FOOT
        self.lens = Lens((0.0, scale, 0.0), (scale, 0.0, 0.0), (WIDTH / 2, _TOP - start * scale))

    def scene(self) -> Scene:
        low, high = (4.0, 4.0), (WIDTH - 4.0, self.foot)
        water = ((0, 0), (WIDTH, 0), (WIDTH, self.foot), (0, self.foot))
        drawn: list[Shape] = [Polygon(water, "water")]
        for upper in (False, True):
            drawn += parts.panel(self.net.netting(upper=upper), self.lens, 12, 12)
        if self.old is not None:
            drawn += parts.before(self.old, self.lens, low, high)
        drawn += parts.legs(self.net, self.lens, low, high)
        drawn += parts.sweep(self.net, self.lens)
        drawn += [*parts.ropes(self.net, self.lens), *parts.knots(self.net, self.lens)]
        title = (
            _("The net in flight from above")
            if self.old is None
            else _("The net in flight from above, before and after the change")
        )
        return whole(
            title,
            self._said(),
            [*drawn, *self._lettering(), *self._spread()],
            Below(
                self.foot + 20,
                parts.key(self.net, changed=self.old is not None),
                _("Seen from above, to scale. The measure is from wing end to wing end."),
            ),
        )

    def _lettering(self) -> list[Shape]:
        middle = WIDTH / 2
        # Beside the wings, where the legs are past: from there aft it only narrows.
        y = max(self.lens.at(self.net.foot[i])[1] for i in (0, -1)) + 12
        return [
            Text(marks.EDGE, y, PORT, "label-strong", LETTER, START),
            Text(WIDTH - marks.EDGE, y, STARBOARD, "label-strong", LETTER, END),
            *marks.arrow(middle, 34, 10),
            Text(middle, 46, _("towed this way"), "label-quiet"),
        ]

    def _spread(self) -> list[Shape]:
        """Return the measure between the wing ends, a little ahead of them."""
        (x1, y1), (x2, y2) = (self.lens.at(self.net.foot[i]) for i in (0, -1))
        y = min(y1, y2) - 20
        shapes: list[Shape] = [
            Line(x1, y, x2, y, "dimension"),
            *(Line(x, y - 5, x, at - 4, "dimension") for x, at in ((x1, y1), (x2, y2))),
        ]
        lines = [words for words in (self._spread_text, self._change_text) if words]
        for i, words in enumerate(reversed(lines)):
            shapes.append(Text((x1 + x2) / 2, y - 12 - 16 * i, words, "label-strong"))
        return shapes

    @property
    def _spread_text(self) -> str:
        return (
            _("{feet} ft").format(feet=round(spread(self.net) / FOOT)) if self.with_heights else ""
        )

    @property
    def _change_text(self) -> str:
        if self.old is None:
            return ""
        return moved_text(spread(self.net) - spread(self.old))

    def _said(self) -> list[str]:
        """Return what is written between the wing ends, in sentences."""
        found = []
        if self.with_heights:
            found.append(_("The wing ends are {spread} apart.").format(spread=self._spread_text))
        if self.old is not None:
            found.append(
                _("What the change does between the wing ends: {change}.").format(
                    change=self._change_text
                )
            )
        return found


def spread(net: Places) -> float:
    """Return how far apart the footrope's wing ends are, metres."""
    return float(np.linalg.norm(net.foot[-1] - net.foot[0]))
