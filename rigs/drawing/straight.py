"""The footrope stretched out along a scale, for setting and checking dropper places."""

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from rigs.rules.judge import Verdict
from rigs.words.gear import PORT, STARBOARD, Dropper, Footrope
from rigs.words.say import gettext as _
from rigs.words.say import gettext_lazy
from rigs.words.units import FOOT, feet_inches

from . import marks
from .lettering import Box, Room
from .marks import Names
from .scene import (
    END,
    LETTER,
    MIDDLE,
    START,
    WIDTH,
    KeyEntry,
    Line,
    Polygon,
    Polyline,
    Scene,
    Shape,
    Text,
)

_MARGIN = 24
_ROPE = 82
_CHAIN = 26
_SCALE = 126
_BOTTOM = 166
_TICKS = (1, 2, 4, 8, 16)  # feet
_CLOSEST_TICKS = 4
_CLOSEST_NUMBERS = 30


class Rings(NamedTuple):
    """Another rig's ``droppers``, drawn as rings; ``names`` say what dots and rings stand for."""

    droppers: Sequence[Dropper]
    names: Names = (gettext_lazy("as rigged"), gettext_lazy("for comparison"))


def straight_view(
    footrope: Footrope,
    droppers: Sequence[Dropper] | None = (),
    verdict: Verdict | None = None,
    rings: Rings | None = None,
    width: float = WIDTH,
) -> Scene:
    """
    Return the Scene of ``footrope`` as a straight line over a scale of feet.

    ``droppers`` hang from it, with ``rings`` for another rig's. What fails on the footrope
    in ``verdict`` is marked and listed. ``width`` is the scene's width in units.

    The scene's data let a script turn places into metres from the center, port
    negative: metres = (x - origin-x) * metres-per-unit; ``rope-y`` is the rope's
    height, and ``port-end``, ``port-corner``, ``starboard-corner`` and
    ``starboard-end`` are metres. Raise ValueError if the footrope has no length.
    """
    if footrope.length <= 0:
        raise ValueError(_("A footrope without length cannot be drawn."))
    return _Straight(footrope, droppers or (), verdict, rings, width).scene()


class _Straight:
    """A straight footrope in the making."""

    def __init__(
        self,
        footrope: Footrope,
        droppers: Sequence[Dropper],
        verdict: Verdict | None,
        rings: Rings | None,
        width: float,
    ) -> None:
        self.rope, self.droppers, self.rings, self.width = footrope, droppers, rings, width
        self.scale = (width - 2 * _MARGIN) / footrope.length
        self.x0 = _MARGIN - footrope.port_end * self.scale
        self.room = Room(Box(3, 3, width - 3, _SCALE - 4))
        self.faults = [
            (number, finding)
            for number, finding in marks.numbered(verdict)
            if any(marks.along_footrope(spot, footrope) for spot in finding.spots or (finding.key,))
        ]
        self.parts: list[Shape] = []
        self.flags: list[Shape] = []
        self.letters: list[Shape] = []

    def x(self, position: float) -> float:
        """Return the drawing's x of a place in metres from the center."""
        return self.x0 + position * self.scale

    def scene(self) -> Scene:
        self._ruler()
        self._line()
        ground = len(self.parts)
        self._droppers()
        self._faults()
        self.parts[ground:ground] = self.flags
        self._names()
        self._distances()
        y = self._below()
        rope = self.rope
        ghost, name = ((), "") if self.rings is None else (self.rings.droppers, self.rings.names[1])
        words = [
            marks.footrope_words(rope),
            *marks.dropper_words(self.droppers, ghost, name),
            *marks.fault_words(self.faults),
        ]
        paper = Polygon(((0, 0), (self.width, 0), (self.width, y), (0, y)), "paper")
        return Scene(
            self.width,
            y,
            _("The footrope stretched out straight"),
            " ".join(words),
            [paper, *self.parts, *self.letters],
            (
                ("metres-per-unit", f"{1 / self.scale:.8f}"),
                ("origin-x", f"{self.x0:.4f}"),
                ("rope-y", _ROPE),
                ("port-end", f"{rope.port_end:.6f}"),
                ("port-corner", f"{rope.port_corner:.6f}"),
                ("starboard-corner", f"{rope.starboard_corner:.6f}"),
                ("starboard-end", f"{rope.starboard_end:.6f}"),
            ),
        )

    def _ruler(self) -> None:
        left, right = self.x(self.rope.port_end), self.x(self.rope.starboard_end)
        self.parts.append(Line(left, _SCALE, right, _SCALE, "scale"))
        foot = self.scale * FOOT
        small = next((t for t in _TICKS if t * foot >= _CLOSEST_TICKS), _TICKS[-1])
        large = next((t for t in _TICKS if t * foot >= _CLOSEST_NUMBERS), 2 * _TICKS[-1])
        reach = int(max(-self.rope.port_end, self.rope.starboard_end) / FOOT + 1e-6)
        for feet in range(-reach, reach + 1):
            x = self.x(feet * FOOT)
            if feet % small or not left - 0.01 <= x <= right + 0.01:
                continue
            numbered = feet % large == 0
            self.parts.append(Line(x, _SCALE, x, _SCALE + (9 if numbered else 5), "scale"))
            if numbered:
                self.letters.append(Text(x, _SCALE + 18, str(abs(feet)), "label", 12))
        self.letters.append(
            Text(self.width / 2, _SCALE + 34, _("feet from the center"), "label-quiet", 12)
        )

    def _line(self) -> None:
        rope = self.rope
        ends = self.x(rope.port_end), self.x(rope.starboard_end)
        self.parts.append(Line(ends[0], _ROPE, ends[1], _ROPE, "footrope"))
        for x in ends:
            self.parts.append(Line(x, _ROPE - 9, x, _ROPE + 9, "wing-end"))
        middle = self.x(0)
        self.parts.append(Line(middle, _ROPE - 16, middle, _SCALE, "center-line"))
        for side in (PORT, STARBOARD):
            x = self.x(rope.corner(side))
            self.parts.append(marks.diamond(x, _ROPE, 8))
            self.room.take(marks.box_round(x, _ROPE, 8))

    def _droppers(self) -> None:
        for each in self.rings.droppers if self.rings else ():
            x = self.x(each.position)
            self.parts.append(marks.ring(x, _ROPE, each))
        for each in self.droppers:
            x = self.x(each.position)
            self.parts += marks.hanging((x, _ROPE), (x, _ROPE + _CHAIN), each)
            self.parts.append(marks.knot(x, _ROPE, each))
            self.room.take(Box(x - 3, _ROPE - 5, x + 3, _ROPE + _CHAIN))

    def _faults(self) -> None:
        for number, finding in self.faults:
            for spot in finding.spots or (finding.key,):
                where = marks.along_footrope(spot, self.rope)
                if where is None:
                    continue
                start, end = where
                middle = (self.x(start) + self.x(end)) / 2
                if end > start:
                    run = ((self.x(start), _ROPE), (self.x(end), _ROPE))
                    self.flags.append(Polyline(run, "fault-stretch"))
                else:
                    self.flags.append(marks.framed(middle, _ROPE))
                self._badge(number, middle)

    def _badge(self, number: int, x: float) -> None:
        for y in (_ROPE - 22, _ROPE + 22, _ROPE - 41):
            box = marks.box_round(x, y, marks.BADGE + 1)
            if self.room.is_free(box):
                self.room.take(box)
                self.letters += marks.badge(number, x, y)
                return

    def _letter(self, *choices: Text) -> None:
        text = self.room.place(choices)
        if text is not None:
            self.letters.append(text)

    def _names(self) -> None:
        rope = self.rope
        top, line = 15, 34
        self._letter(Text(self.x(rope.port_end) - 12, top, PORT, "label-strong", anchor=START))
        self._letter(
            Text(self.x(rope.starboard_end) + 12, top, STARBOARD, "label-strong", anchor=END)
        )
        self._pointed(self.x(0), "center", ((0, MIDDLE, top), (0, MIDDLE, line)))
        for side, anchor, shift in ((PORT, END, 6), (STARBOARD, START, -6)):
            ways = ((0, MIDDLE, line), (shift, anchor, line), (shift, anchor, top + 38))
            self._pointed(self.x(rope.corner(side)), "corner", ways)
        for side, anchor, shift in ((PORT, START, -12), (STARBOARD, END, 12)):
            x = self.x(rope.end(side)) + shift
            self._letter(*(Text(x, y, _("wing end"), "label", LETTER, anchor) for y in (line, 53)))

    def _pointed(self, x: float, words: str, ways: Iterable[tuple[float, str, float]]) -> None:
        """
        Write ``words`` over a mark, with a fine line down to it.

        ``ways`` are (shift, anchor, height) to try in turn.
        """
        choices = [
            Text(x + shift, y, words, "label-strong", LETTER, anchor, True)
            for shift, anchor, y in ways
        ]
        text = self.room.place(choices)
        if text is not None:
            self.parts.append(Line(x, text.y + 9, x, _ROPE - 10, "dimension"))
            self.letters.append(text)

    def _distances(self) -> None:
        if not self.droppers:
            return
        places = marks.stops(self.rope, self.droppers)
        for start, end in zip(places, places[1:], strict=False):
            x = (self.x(start) + self.x(end)) / 2
            words = feet_inches(end - start)
            self._letter(
                *(Text(x, y, words, "label", 12, MIDDLE, True) for y in (_ROPE - 16, _ROPE + 17))
            )

    def _below(self) -> float:
        y: float = _BOTTOM
        entries: list[KeyEntry] = []
        if self.droppers:
            named = "dropper" if self.rings is None else self.rings.names[0]
            entries.append((marks.sign_of_dropper, named))
        if self.rings is not None:
            entries.append((marks.sign_of_ring, self.rings.names[1]))
        if entries:
            entries.append((marks.sign_of_corner, "corner"))
            shapes, y = marks.legend(entries, y + 14, self.width)
            self.parts += shapes
        if self.faults:
            shapes, y = marks.fault_key(self.faults, y + 8, self.width)
            self.parts += shapes
        return y + 4
