"""The mouth of a net in flight seen from ahead, looking aft: how high its footrope is where."""

from rigs.make.changes import over_footrope
from rigs.physics.flight import Flown
from rigs.words.gear import PORT, SIDES, STARBOARD
from rigs.words.say import gettext as _

from .. import marks
from ..scene import END, LETTER, START, WIDTH, XY, Data, Line, Polyline, Scene, Shape, Text
from . import parts
from .changes import Footing, column, footings, sentences
from .lens import Lens, cut_off, largest
from .places import nets
from .whole import Below, whole

_TIMES = (1, 2, 3, 4)
_TOP = 60  # over the headrope: room for a name, and for what a page puts there to be tapped
_TALL = 220  # for the headrope's height
_SIDE = 26
_LEADS = 24
_COLUMN = (WIDTH - 2 * marks.EDGE) / 5


def flight_from_ahead(
    before: Flown, after: Flown | None = None, *, with_heights: bool = True
) -> Scene:
    """
    Return the Scene of a mouth in flight from ahead; starboard is on the left, as it is seen.

    With ``after`` that is what is drawn, ``before`` it is dashed, and each of flight's POINTS
    says how far it goes. Without ``with_heights`` no height is written, for as long as nothing
    of the net was read. Heights are drawn a whole number of times as large as widths.

    Its data say where a page may let somebody take hold of it, as ``x,y`` with a blank between:
    ``floats`` the headrope over POINTS, ``legs`` the middle of each leg as far as it is drawn (top
    and bottom, port first), ``sweep`` the middle of one.
    """
    return _Ahead(before, after, with_heights).scene()


class _Ahead:
    """A view from ahead in the making."""

    def __init__(self, before: Flown, after: Flown | None, with_heights: bool) -> None:
        self.with_heights = with_heights
        self.net, self.old = nets(before, after)
        drawn = (self.net, self.old or self.net)
        out, up = max(each.reach for each in drawn), max(each.top for each in drawn)
        scale = (WIDTH / 2 - _SIDE) / out
        self.times = largest(up * scale, _TALL, _TIMES)
        self.bed = _TOP + up * scale * self.times
        self.lens = Lens((0.0, -scale, 0.0), (0.0, 0.0, -scale * self.times), (WIDTH / 2, self.bed))
        self.scale = scale
        self.found = footings(before, after)

    def scene(self) -> Scene:
        low, high = self._box
        drawn: list[Shape] = [*parts.ground(self.bed)]
        for upper in (True, False):
            drawn += parts.panel(self.net.netting(upper=upper), self.lens, 20, 6)
        if self.old is not None:
            drawn += parts.before(self.old, self.lens, low, high)
        drawn += parts.legs(self.net, self.lens, low, high)
        drawn += [*self._droppers(), *parts.sweep(self.net, self.lens)]
        drawn += [*parts.ropes(self.net, self.lens), *parts.knots(self.net, self.lens)]
        table, y = self._table()
        title = (
            _("The net in flight from ahead")
            if self.old is None
            else _("The net in flight from ahead, before and after the change")
        )
        signs = parts.key(self.net, changed=self.old is not None, shines=True)
        return whole(
            title,
            sentences(self.found, self.with_heights),
            [*drawn, *self._lettering(), *table],
            Below(y + 8, signs, self._note()),
            self._holds(),
        )

    @property
    def _box(self) -> tuple[XY, XY]:
        return (4.0, 4.0), (WIDTH - 4.0, self.bed + parts.STRIP)

    def _holds(self) -> Data:
        """Return where somebody may take hold of the net."""
        found = []
        if self.net.flown.rig.headrope.length is not None:
            places = over_footrope(self.net.flown.rig)
            found.append(("floats", [self.lens.at(self.net.on_headrope(at)) for at in places]))
        drawn = [
            cut_off(self.lens.line(self.net.legs(side, name)[::-1]), *self._box)
            for side in SIDES
            for name in ("top", "bottom")
        ]
        middles = [((a[0] + b[0]) / 2, (a[1] + b[1]) / 2) for a, *__, b in drawn]
        found.append(("legs", middles))
        if self.net.sweep is not None:
            found.append(("sweep", [self.lens.at(self.net.sweep[len(self.net.sweep) // 2])]))
        return tuple(
            (name, " ".join(f"{x:.1f},{y:.1f}" for x, y in places)) for name, places in found
        )

    def _droppers(self) -> list[Shape]:
        shapes: list[Shape] = []
        for each in self.net.flown.trailing:
            chain, lies = parts.chain_places(self.net, each)
            top, foot = self.lens.at(chain[0]), self.lens.at(chain[-1])
            shapes += marks.hanging(top, foot, each.dropper)
            if lies is not None:
                # It drags aft, out of sight from here: laid down to the side.
                way = -1 if each.dropper.position > 0 else 1
                shapes += parts.bright(foot, (foot[0] + way * each.shine * self.scale, foot[1]))
        return shapes

    def _lettering(self) -> list[Shape]:
        return [
            Text(marks.EDGE, 16, STARBOARD, "label-strong", LETTER, START),
            Text(WIDTH / 2, 16, _("looking aft"), "label-quiet"),
            Text(WIDTH - marks.EDGE, 16, PORT, "label-strong", LETTER, END),
        ]

    def _table(self) -> tuple[list[Shape], float]:
        """Return a column for each place, with a fine line down to it, and where they end."""
        shapes: list[Shape] = []
        top = self.bed + parts.STRIP + _LEADS
        ends = [top]
        names = (_("wing end"), _("corner"), _("center"), _("corner"), _("wing end"))
        for i, (footing, name) in enumerate(zip(reversed(self.found), names, strict=True)):
            x = marks.EDGE + (i + 0.5) * _COLUMN
            shapes += self._lead(footing, x, top)
            column_shapes, end = column(footing, name, x, top, _COLUMN, self.with_heights)
            shapes += column_shapes
            ends.append(end)
        return shapes, max(ends)

    def _lead(self, footing: Footing, x: float, top: float) -> list[Shape]:
        at_x, at_y = self.lens.at(self.net.on_footrope(footing.shown.position))
        edge = self.bed + parts.STRIP
        return [
            Line(at_x, at_y, at_x, edge, "dimension"),
            Polyline(((at_x, edge), (x, top - 9)), "dimension"),
        ]

    def _note(self) -> str:
        words = [_("Seen from ahead, so starboard is on the left.")]
        if self.times > 1:
            words.append(_("Heights are drawn {times} times as large.").format(times=self.times))
        if self.net.shines:
            words.append(_("What drags of a dropper lies aft of it; here it is drawn to the side."))
        return " ".join(words)
