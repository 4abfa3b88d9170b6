"""A net in flight seen from the side, towed to the left: how high it goes from legs to codend."""

from rigs.physics.flight import Flown
from rigs.words.gear import PORT, SIDES, STARBOARD
from rigs.words.say import gettext as _

from .. import marks
from ..scene import LETTER, START, WIDTH, Line, Polygon, Polyline, Scene, Shape, Text
from . import parts
from .changes import Footing, column, entries, footings, sentences
from .lens import Lens, largest
from .places import nets
from .whole import Below, whole

_TIMES = (1, 2, 3, 4, 5, 6, 8)
_TOP = 40  # over the headrope
_TALL = 150  # for the headrope's height
_LEFT, _RIGHT = 34, 10
_SIDE_NAME = 84


def flight_from_the_side(
    before: Flown, after: Flown | None = None, *, with_heights: bool = True
) -> Scene:
    """
    Return the Scene of a net in flight from port, ahead to the left, from legs to codend.

    With ``after`` that is what is drawn, ``before`` it is dashed, and what its footrope does is
    written below: for each side by itself where the two are not alike. Without ``with_heights``
    no height is written, for as long as nothing of the net was read. Heights are drawn a whole
    number of times as large as lengths.
    """
    return _Aside(before, after, with_heights).scene()


class _Aside:
    """A view from the side in the making."""

    def __init__(self, before: Flown, after: Flown | None, with_heights: bool) -> None:
        self.with_heights = with_heights
        self.net, self.old = nets(before, after)
        drawn = (self.net, self.old or self.net)
        start = min(float(each.legs(side, "top")[0, 0]) for each in drawn for side in SIDES)
        end = max(float(each.codend[0]) for each in drawn)
        up = max(each.top for each in drawn)
        scale = (WIDTH - _LEFT - _RIGHT) / (end - start)
        self.times = largest(up * scale, _TALL, _TIMES)
        self.bed = _TOP + up * scale * self.times
        self.lens = Lens(
            (scale, 0.0, 0.0),
            (0.0, 0.0, -scale * self.times),
            (_LEFT - start * scale, self.bed),
        )
        self.found = footings(before, after)

    def scene(self) -> Scene:
        low, high = (4.0, 4.0), (WIDTH - 4.0, self.bed + parts.STRIP)
        drawn: list[Shape] = [*parts.ground(self.bed)]
        for side in (STARBOARD, PORT):
            for upper in (False, True):
                places = self.net.netting(upper=upper, sides=(side,))
                drawn += parts.panel(places, self.lens, 8, 16)
        if self.old is not None:
            drawn += parts.before(self.old, self.lens, low, high)
        drawn += parts.legs(self.net, self.lens, low, high)
        drawn += [*self._droppers(), *parts.sweep(self.net, self.lens)]
        drawn += [*parts.ropes(self.net, self.lens), *parts.knots(self.net, self.lens)]
        table, y = self._table()
        title = (
            _("The net in flight from the side")
            if self.old is None
            else _("The net in flight from the side, before and after the change")
        )
        signs = parts.key(self.net, changed=self.old is not None, shines=True)
        return whole(
            title,
            sentences(self.found, self.with_heights),
            [*drawn, *self._lettering(), *table],
            Below(y + 8, signs, self._note()),
        )

    def _droppers(self) -> list[Shape]:
        shapes: list[Shape] = []
        for each in self.net.flown.trailing:
            chain, lies = parts.chain_places(self.net, each)
            shapes.append(Polyline(self.lens.line(chain), "dropper-chain"))
            if lies is not None:
                shapes += parts.bright(*self.lens.line(lies))
        return shapes

    def _lettering(self) -> list[Shape]:
        return [
            Line(52, 18, 20, 18, "arrow"),
            Polygon(((12, 18), (24, 12), (24, 24)), "arrow-head"),
            Text(60, 18, _("towed this way"), "label-quiet", LETTER, START),
        ]

    def _table(self) -> tuple[list[Shape], float]:
        """Return a row of columns for both sides, or one for each, and where they end."""
        if not any(entries(each, self.with_heights) for each in self.found):
            return [], self.bed + parts.STRIP + 8
        port, starboard = self.found[2::-1], self.found[2:]
        y: float = self.bed + parts.STRIP + 18
        if self._alike:
            return self._row(starboard, (_("wing ends"), _("corners"), _("center")), "", y)
        shapes: list[Shape] = []
        names = (_("wing end"), _("corner"), _("center"))
        for side, row in ((PORT, port), (STARBOARD, starboard)):
            drawn, y = self._row(row, names, side, y)
            shapes += drawn
            y += 4
        return shapes, y

    @property
    def _alike(self) -> bool:
        return all(each.flown.built.half for each in (self.net, self.old or self.net))

    def _row(
        self, row: list[Footing], names: tuple[str, str, str], side: str, y: float
    ) -> tuple[list[Shape], float]:
        """Return the columns of ``row``, center first, in the order in which they are towed."""
        left = marks.EDGE + (_SIDE_NAME if side else 0)
        width = (WIDTH - marks.EDGE - left) / 3
        shapes: list[Shape] = []
        if side:
            shapes.append(Text(marks.EDGE, y, side, "label-strong", LETTER, START))
        ends = [y]
        for i, (footing, name) in enumerate(zip(reversed(row), names, strict=True)):
            drawn, end = column(
                footing, name, left + (i + 0.5) * width, y, width, self.with_heights
            )
            shapes += drawn
            ends.append(end)
        return shapes, max(ends)

    def _note(self) -> str:
        if self.times == 1:
            return _("Seen from port; towed to the left.")
        return _(
            "Seen from port; towed to the left. Heights are drawn {times} times as large."
        ).format(times=self.times)
