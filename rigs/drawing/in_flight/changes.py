"""What a change does to the footrope, place by place: as a table on a drawing, and in words."""

from collections.abc import Sequence
from typing import NamedTuple

from rigs.physics.flight import Flown, Point
from rigs.words.say import gettext as _
from rigs.words.units import inches

from ..lettering import text_width, wrap
from ..scene import LETTER, Polygon, Shape, Text

_ROW = 16
_LARGE = 14
"""Size of a change, in units: it is what one looks for."""
_SIGN = 4  # half of an arrow's width
_NONE = "0 in"


class Footing(NamedTuple):
    """
    One of flight's POINTS ``before`` a change and ``after`` it; None for after without one.

    ``clear`` says that the dropper nearest to it, as drawn, hangs clear of the bottom.
    """

    before: Point
    after: Point | None
    clear: bool

    @property
    def shown(self) -> Point:
        """The place as it is in the end."""
        return self.before if self.after is None else self.after

    @property
    def change(self) -> float:
        """How far it goes up, metres; below nothing, down."""
        return self.shown.up - self.before.up


def way(change: float) -> int:
    """Return 1 if ``change`` in metres is up as far as can be written, -1 if down, 0 if neither."""
    if inches(abs(change), 1) == _NONE:
        return 0
    return 1 if change > 0 else -1


def footings(before: Flown, after: Flown | None) -> list[Footing]:
    """Return the Footing of each of POINTS, port to starboard."""
    shown = before if after is None else after
    return [
        Footing(old, None if after is None else new, shown.is_clear(new.position))
        for old, new in zip(before.points, shown.points, strict=True)
    ]


def height_text(footing: Footing) -> str:
    """
    Return how high the footrope is: ``11 in``, ``on the bottom``.

    Where droppers hang clear, shine can tell of no height, and none is written.
    """
    if footing.shown.lies:
        return _("on the bottom")
    if footing.clear:
        return _("no shine")
    up = inches(footing.shown.up, 1)
    return _("under 1 in") if up == _NONE else up


def moved_text(change: float) -> str:
    """Return a change in metres as it is written: ``+4 in``, ``−2 in``, ``0``."""
    sign = {1: "+", 0: "", -1: "\N{MINUS SIGN}"}[way(change)]
    return f"{sign}{inches(abs(change), 1)}" if sign else "0"


class Entry(NamedTuple):
    """
    What is written at a place: ``words``, and which ``way`` its arrow points.

    ``way`` is None for a state, 0 for a change too small to be written. One that is ``less`` is
    written smaller than what matters most.
    """

    words: str
    way: int | None = None
    less: bool = False


def entries(footing: Footing, with_heights: bool) -> list[Entry]:
    """
    Return what is written at a place, from above: its change first, then how high it is.

    Without heights a place that lies on the bottom says so in place of its change.
    """
    found = []
    changed = footing.after is not None and (with_heights or not footing.shown.lies)
    if changed:
        found.append(Entry(moved_text(footing.change), way(footing.change)))
    if with_heights or footing.shown.lies:
        is_height = changed and not footing.shown.lies and not footing.clear
        text = height_text(footing)
        found.append(
            Entry(_("to {height}").format(height=text) if is_height else text, less=changed)
        )
    return found


def column(
    footing: Footing, name: str, x: float, y: float, width: float, with_heights: bool
) -> tuple[list[Shape], float]:
    """Return the shapes of a place's column around ``x`` from ``y`` down, and where they end."""
    shapes: list[Shape] = []
    for line in wrap(name, width):
        shapes.append(Text(x, y, line, "label"))
        y += _ROW
    for entry in entries(footing, with_heights):
        size = LETTER if entry.way is None else _LARGE
        style = "label" if entry.less else "label-strong"
        for line in wrap(entry.words, width - 2.5 * _SIGN):
            aside = 1.5 * _SIGN if entry.way else 0.0
            if entry.way:
                left = x - text_width(line, size, True) / 2 - 3.5
                shapes.append(_sign(left, y, entry.way))
            shapes.append(Text(x + aside, y, line, style, size))
            y += _ROW
    return shapes, y


def _sign(x: float, y: float, way: int) -> Polygon:
    """Return the arrow that says which ``way`` a place goes."""
    tip, back = y - way * _SIGN, y + way * (_SIGN - 1)
    return Polygon(((x, tip), (x - _SIGN, back), (x + _SIGN, back)), "arrow-head")


def sentences(found: Sequence[Footing], with_heights: bool) -> list[str]:
    """Return what the table says, for those who cannot see it."""
    told = []
    lies = [each.shown.name for each in found if each.shown.lies]
    if not with_heights and found[0].after is None and lies:
        told.append(_("On the bottom: {places}.").format(places=", ".join(lies)))
    if with_heights:
        heights = ", ".join(f"{each.shown.name} {height_text(each)}" for each in found)
        told.append(
            _("Height of the footrope: {heights}.").format(heights=heights)
            if found[0].after is None
            else _("Height of the footrope after the change: {heights}.").format(heights=heights)
        )
    if found[0].after is not None:
        told.append(
            _("What the change does: {changes}.").format(
                changes=", ".join(
                    f"{each.shown.name} {entries(each, with_heights)[0].words}" for each in found
                )
            )
        )
    return told
