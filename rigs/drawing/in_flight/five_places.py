"""
A net from ahead of which no more is known than its heights at five places.

For nets that were flown beforehand and kept as figures: it has nothing to work out.
"""

from collections.abc import Sequence

import numpy as np

from rigs.physics import chain
from rigs.physics.flight import POINTS, Point, positions
from rigs.physics.practice import RuleOfThumb
from rigs.physics.tow import hang, line
from rigs.words.gear import PORT, SIDES, STARBOARD, Dropper, Rig
from rigs.words.say import gettext as _
from rigs.words.units import INCH, inches

from .. import marks
from ..netting import weave
from ..scene import (
    END,
    LETTER,
    START,
    WIDTH,
    XY,
    Circle,
    KeyEntry,
    Line,
    Polygon,
    Polyline,
    Scene,
    Shape,
    Text,
)
from . import parts
from .changes import Footing, column, sentences
from .whole import Below, whole

_UNIT = 3 / INCH  # of height, the same on every drawing, so that one can be held by another
_BED = 210.0
_HEAD = (62.0, 42.0)  # the headrope's ends and its middle
_HALF = 132.0  # of the footrope across
_SLANT = 8.0  # by which a wing end leans outward from the headrope down
_MARGIN = 40  # for the ends of the window
_LEADS = 24
_COLUMN = (WIDTH - 2 * marks.EDGE) / 5
_STEPS = 8  # of the bosom's curve, to a side
_MESHES, _ROWS = 28, 7


def five_places(
    rig: Rig,
    heights: Sequence[float],
    window: RuleOfThumb,
    *,
    shine: Sequence[float] = (),
    speed: float = 0.0,
    before: Sequence[float] = (),
) -> Scene:
    """
    Return the Scene of ``rig`` from ahead with its footrope at ``heights``; starboard is left.

    These, ``shine`` and the heights ``before`` a change are metres at flight's POINTS, port to
    starboard; ``speed`` is in m/s. ``window`` is drawn as a band. Heights of the footrope are to
    scale, and between the places it is drawn smooth; the rest is not to scale. Raise KeyError
    for chain that nobody sells.
    """
    return _FivePlaces(rig, heights, window, shine, speed, before).scene()


class _FivePlaces:
    """Such a view in the making."""

    def __init__(
        self,
        rig: Rig,
        heights: Sequence[float],
        window: RuleOfThumb,
        shine: Sequence[float],
        speed: float,
        before: Sequence[float],
    ) -> None:
        self.rig, self.window, self.speed = rig, window, speed
        self.shine = shine
        self.at = positions(rig)
        self.heights, self.before = heights, before
        self.across = 2 * _HALF / rig.footrope.length

    def scene(self) -> Scene:
        drawn: list[Shape] = [*parts.ground(_BED), *self._window(), *self._netting()]
        if self.before:
            drawn.append(Polyline(self._rope(self.before), "before"))
        drawn += [*self._droppers(), *self._ropes()]
        table, y = self._table()
        title = (
            _("The net from ahead, before and after the change")
            if self.before
            else _("The net from ahead, as it flies now")
        )
        return whole(
            title,
            sentences(self._footings(), with_heights=True),
            [*drawn, *self._lettering(), *table],
            Below(y + 8, self._key(), self._note()),
        )

    # Where things are

    def _x(self, position: float) -> float:
        """Return where a place ``position`` metres along the footrope is; port is right."""
        return WIDTH / 2 - position * self.across

    def _point(self, heights: Sequence[float], position: float) -> XY:
        return self._x(position), self._y(self._up(heights, position))

    def _y(self, height: float) -> float:
        return _BED - height * _UNIT

    def _up(self, heights: Sequence[float], position: float) -> float:
        """Return the height at a place: straight along a wing, and a bow through the bosom."""
        __, port, center, starboard, __ = heights
        corner = self.at[3]
        if abs(position) >= corner:
            return float(np.interp(position, self.at, heights))
        share = position / corner
        bow = (starboard + port) / 2 - center
        return max(center + share * (starboard - port) / 2 + share**2 * bow, 0.0)

    def _rope(self, heights: Sequence[float]) -> tuple[XY, ...]:
        bosom = np.linspace(self.at[1], self.at[3], 2 * _STEPS + 1)
        return tuple(self._point(heights, each) for each in (self.at[0], *bosom, self.at[4]))

    def _on_head(self, share: float) -> XY:
        """Return the place that lies ``share`` of a half of the headrope out to starboard."""
        end, middle = _HEAD
        return WIDTH / 2 - share * (_HALF - _SLANT), middle + (end - middle) * share**2

    # What is drawn

    def _window(self) -> list[Shape]:
        """Return the band from corner to corner: by these and the center a height is meant."""
        starboard, port = self._x(self.at[3]), self._x(self.at[1])
        ends = [self._y(end) for end in _ends(self.window)]
        leads = [Line(_MARGIN, y, starboard, y, "dimension") for y in ends]
        return [*leads, *_band(starboard, port, *ends)]

    def _netting(self) -> list[Shape]:
        def knot(i: int, j: int) -> XY:
            out, down = 2 * i / _MESHES - 1, j / _ROWS
            x1, y1 = self._on_head(out)
            x2, y2 = self._point(self.heights, out * self.rig.footrope.length / 2)
            return x1 + (x2 - x1) * down, y1 + (y2 - y1) * down

        return [*weave(knot, _MESHES, _ROWS)]

    def _droppers(self) -> list[Shape]:
        shapes: list[Shape] = []
        for each in self.rig.droppers or ():
            x, y = self._point(self.heights, each.position)
            up = self._up(self.heights, each.position)
            foot = (x, self._y(max(up - self._reach(each), 0.0)))
            shapes += marks.hanging((x, y), foot, each)
            if self.shine:
                # It drags aft, out of sight from here: laid down to the side.
                way = -1 if each.position > 0 else 1
                drags = float(np.interp(each.position, self.at, self.shine)) * self.across
                shapes += parts.bright(foot, (x + way * drags, foot[1]))
        return shapes

    def _reach(self, dropper: Dropper) -> float:
        """Return how far in metres below the footrope a dropper ends if it hangs free."""
        assert dropper.diameter is not None
        assert dropper.length is not None
        return hang(line(chain.stock_for(dropper.diameter)), dropper.length, self.speed, 0.0).height

    def _ropes(self) -> list[Shape]:
        rope, half = self.rig.footrope, (self.rig.headrope.length or 0.0) / 2
        head = tuple(self._on_head(i / _STEPS) for i in range(-_STEPS, _STEPS + 1))
        floats = [self._on_head(each.position / half) for each in self.rig.floats or () if half]
        foot = self._rope(self.heights)
        return [
            *(Polyline(ends, "belly") for ends in ((head[0], foot[0]), (head[-1], foot[-1]))),
            Polyline(head, "headrope"),
            *(Circle(x, y, 3.4, "float") for x, y in floats),
            Polyline(foot, "footrope"),
            *(marks.diamond(*self._point(self.heights, rope.corner(side)), 6.5) for side in SIDES),
            *(
                Circle(*self._point(self.heights, each.position), 3.2, "dropper")
                for each in self.rig.droppers or ()
            ),
        ]

    # What is written

    def _footings(self) -> list[Footing]:
        """Return what is said at each place; its height also where droppers hang clear."""
        found = []
        for i, (name, position) in enumerate(zip(POINTS, self.at, strict=True)):
            shown = Point(name, position, self.heights[i])
            if not self.before:
                found.append(Footing(shown, None, clear=False))
                continue
            found.append(Footing(Point(name, position, self.before[i]), shown, clear=False))
        return found

    def _lettering(self) -> list[Shape]:
        return [
            Text(marks.EDGE, 16, STARBOARD, "label-strong", LETTER, START),
            Text(WIDTH / 2, 16, _("looking aft"), "label-quiet"),
            Text(WIDTH - marks.EDGE, 16, PORT, "label-strong", LETTER, END),
            *(
                Text(4, self._y(end), inches(end), anchor=START, halo=True)
                for end in _ends(self.window)
            ),
        ]

    def _table(self) -> tuple[list[Shape], float]:
        """Return a column for each place, with a fine line down to it, and where they end."""
        shapes: list[Shape] = []
        top = _BED + parts.STRIP + _LEADS
        ends = [top]
        names = (_("wing end"), _("corner"), _("center"), _("corner"), _("wing end"))
        for i, (footing, name) in enumerate(zip(reversed(self._footings()), names, strict=True)):
            x = marks.EDGE + (i + 0.5) * _COLUMN
            place, edge = self._x(footing.shown.position), _BED + parts.STRIP
            shapes.append(Polyline(((place, edge), (x, top - 9)), "dimension"))
            column_shapes, end = column(footing, name, x, top, _COLUMN, with_heights=True)
            shapes += column_shapes
            ends.append(end)
        return shapes, max(ends)

    def _key(self) -> list[KeyEntry]:
        found: list[KeyEntry] = []
        if self.before:
            found += [(parts.sign_of_before, _("before")), (marks.sign_of_footrope, _("after"))]
        else:
            found.append((marks.sign_of_footrope, _("footrope")))
        found += [
            (marks.sign_of_floats, _("headrope with floats")),
            (marks.sign_of_corner, _("corner")),
            (marks.sign_of_dropper, _("dropper")),
        ]
        if self.shine:
            found.append((parts.sign_of_shine, _("drags on the bottom")))
        return [
            *found,
            (_sign_of_window, _("{text}: the height by custom").format(text=self.window.text)),
        ]

    def _note(self) -> str:
        words = [
            _("Seen from ahead, so starboard is on the left."),
            _("Only the heights of the footrope are to scale."),
        ]
        if self.shine:
            words.append(_("What drags of a dropper lies aft of it; here it is drawn to the side."))
        return " ".join(words)


def _ends(window: RuleOfThumb) -> tuple[float, float]:
    return window.high, window.low


def _band(left: float, right: float, top: float, foot: float) -> list[Shape]:
    """Return the band in which the trade wants the footrope."""
    return [
        Polygon(((left, top), (right, top), (right, foot), (left, foot)), "area-open"),
        *(Line(left, y, right, y, "arrow") for y in (top, foot)),
    ]


def _sign_of_window(x: float, y: float) -> list[Shape]:
    return _band(x - 9, x + 9, y - 6, y + 6)
