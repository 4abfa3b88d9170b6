"""The net's mouth seen from above and laid flat."""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence

from rigs.rules.judge import Verdict
from rigs.words.gear import PORT, STARBOARD, Float, Rig
from rigs.words.places import Spot, Stretch
from rigs.words.say import gettext as _
from rigs.words.say import gettext_lazy
from rigs.words.units import feet_inches

from . import marks
from .lettering import Box, Room, text_width
from .marks import Names
from .mouth import HeadropeCurve, Mouth
from .netting import weave
from .scene import (
    END,
    LETTER,
    MIDDLE,
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

_SIDE_MARGIN = 48
_WIDEST_MARGIN = 84
_BESIDE = 20
_TOP = 78
_TALLEST = 330
_BODY = 100
_TAIL = 20
_AS_RIGGED = (gettext_lazy("as rigged"), gettext_lazy("for comparison"))
_BAND = 17
_FAR = 0.35  # of a unit vector: beyond this a label is set to one side


def plan_view(
    rig: Rig,
    verdict: Verdict | None = None,
    ghost: Rig | None = None,
    names: Names = _AS_RIGGED,
    finest: int = 16,
) -> Scene:
    """
    Return the Scene of the mouth of ``rig`` from above, distances true along the ropes.

    Distances are written to one in ``finest`` of an inch.

    The failed findings of ``verdict`` are marked where they occur and listed below.
    The droppers of ``ghost``, another Rig on the same footrope, are drawn as rings;
    ``names`` then say in the legend what dots and rings stand for.

    The scene's data give ``metres-per-unit``, ``origin-x`` and ``origin-y``.
    """
    return _Plan(rig, verdict, ghost, names, finest).scene()


def writes_all(rig: Rig) -> bool:
    """Return whether the plan of ``rig`` has room to write every distance on its two ropes."""
    plan = _Plan(rig, None, None, ("", ""))
    plan.parts_in_the_way()
    return next(plan.distances(), None) is None


def _words(rig: Rig, verdict: Verdict | None, ghost: Rig | None, names: Names) -> str:
    words = [marks.footrope_words(rig.footrope)]
    if rig.headrope.length is not None:
        words.append(
            _("Headrope {feet_inches}.").format(feet_inches=feet_inches(rig.headrope.length))
        )
    words += marks.dropper_words(rig.droppers, ghost.droppers if ghost else None, names[1])
    if rig.floats:
        words.append(_("{floats} floats on the headrope.").format(floats=len(rig.floats)))
    return " ".join(words + marks.fault_words(marks.numbered(verdict)))


class _Plan:
    """A plan in the making."""

    def __init__(
        self,
        rig: Rig,
        verdict: Verdict | None,
        ghost: Rig | None,
        names: Names,
        finest: int = 16,
    ) -> None:
        self.rig, self.verdict, self.ghost, self.names = rig, verdict, ghost, names
        self.finest = finest
        self.mouth = Mouth(rig.footrope)
        xs, ys = zip(*self.mouth.outline, strict=True)
        head = rig.headrope.length
        self.head = self.mouth.headrope(head) if head else None
        behind = min(0.0, *(y for __, y in self.head.points)) if self.head else 0.0
        span, height = max(xs) - min(xs), max(ys) - min(ys)
        self.stops = marks.stops(rig.footrope, rig.droppers or ())
        self.scale = min(
            (WIDTH - 2 * self._side_margin()) / max(span, 0.1), _TALLEST / max(height - behind, 0.1)
        )
        self.x0 = WIDTH / 2 - self.scale * (max(xs) + min(xs)) / 2
        self.y0 = _TOP + self.scale * max(ys)
        self.tail = self.y0 - behind * self.scale + _BODY
        self.room = Room(Box(4, 4, WIDTH - 4, self.tail))
        self.parts: list[Shape] = []
        self.flags: list[Shape] = []  # what marks a fault, under the droppers
        self.letters: list[Shape] = []

    def _side_margin(self) -> float:
        """Return the room to leave on either side for the distances along the wings."""
        half = self.rig.footrope.bosom / 2
        on_wings = [
            text_width(feet_inches(b - a, self.finest)) + _BESIDE + 10
            for a, b in zip(self.stops, self.stops[1:], strict=False)
            if abs(a + b) / 2 > half
        ]
        return min(max([_SIDE_MARGIN, *on_wings]), _WIDEST_MARGIN)

    # where things are

    def at(self, point: XY) -> XY:
        return self.x0 + point[0] * self.scale, self.y0 - point[1] * self.scale

    def on_rope(self, position: float, out: float = 0.0) -> XY:
        """Return the drawing's (x, y) of a place on the footrope, ``out`` units outside it."""
        x, y = self.at(self.mouth.point(position))
        dx, dy = self.mouth.outward(position)
        return x + dx * out, y - dy * out

    def beside(self, position: float, out: float) -> tuple[float, float, str]:
        """Return the (x, y, anchor) of lettering ``out`` units outside the footrope."""
        dx, __ = self.mouth.outward(position)
        x, y = self.on_rope(position, out)
        if dx > _FAR:
            return x, y, START if out > 0 else END
        if dx < -_FAR:
            return x, y, END if out > 0 else START
        return x, y + (6 if out > 0 else -6), MIDDLE

    # the drawing, from the back to the front

    def scene(self) -> Scene:
        self._netting()
        self._ground()
        self.parts_in_the_way()
        for __ in self.distances():
            pass  # what finds no room is left out
        y = self._below()
        paper = Polygon(((0, 0), (WIDTH, 0), (WIDTH, y), (0, y)), "paper")
        return Scene(
            WIDTH,
            y,
            _("The net's mouth from above, laid flat"),
            _words(self.rig, self.verdict, self.ghost, self.names),
            [paper, *self.parts, *self.letters],
            (
                ("metres-per-unit", f"{1 / self.scale:.8f}"),
                ("origin-x", f"{self.x0:.4f}"),
                ("origin-y", f"{self.y0:.4f}"),
            ),
        )

    def parts_in_the_way(self) -> None:
        """Draw what the distances have to keep clear of."""
        self._ropes()
        if self.rig.sweep is not None:
            self._sweep()
        ground = len(self.parts)
        self._droppers()
        self._signposts()
        self._faults()
        self.parts[ground:ground] = self.flags
        self._names()

    def distances(self) -> Iterator[str]:
        """Write the distances along both ropes; yield each that finds no room."""
        yield from self._on_the_footrope()
        if self.rig.floats and self.head:
            yield from self._float_gaps(self.head, self.rig.floats)

    def _netting(self) -> None:
        rope = self.rig.footrope
        middle, __ = self.on_rope(0)
        left, right = (middle - _TAIL, self.tail), (middle + _TAIL, self.tail)
        edge = [self.at(p) for p in self.mouth.outline]
        outside = [
            self.on_rope(rope.starboard_corner, _BAND),
            right,
            left,
            self.on_rope(rope.port_corner, _BAND),
        ]
        self.parts.append(Polygon((*edge, *outside), "netting"))
        self._meshes(left, right)

    def _meshes(self, left: XY, right: XY) -> None:
        """Draw meshes between the bosom and the tail."""
        bosom = self.rig.footrope.bosom
        count = 12
        upper = [self.on_rope(bosom * (i / count - 0.5)) for i in range(count + 1)]

        def knot(i: int, j: int) -> XY:
            x1, y1 = upper[i]
            x2 = left[0] + (right[0] - left[0]) * i / count
            return x1 + (x2 - x1) * j / count, y1 + (self.tail - y1) * j / count

        self.parts += weave(knot, count, count, 2)

    def _ground(self) -> None:
        x, __ = self.on_rope(0)
        self.parts.append(Line(x, 56, x, self.tail, "center-line"))

    def _ropes(self) -> None:
        rope = self.rig.footrope
        self.parts.append(Polyline(tuple(map(self.at, self.mouth.outline)), "footrope"))
        for side in (PORT, STARBOARD):
            end = rope.end(side)
            self.parts.append(
                Line(*self.on_rope(end, -6), *self.on_rope(end, 6), "wing-end"),
            )
        if self.head:
            self._headrope(self.head, self.rig.floats or ())
        for side in (PORT, STARBOARD):
            x, y = self.on_rope(rope.corner(side))
            self.parts.append(marks.diamond(x, y, 8))
            self.room.take(marks.box_round(x, y, 6))

    def _headrope(self, head: HeadropeCurve, floats: Iterable[Float]) -> None:
        self.parts.append(Polyline(tuple(map(self.at, head.points)), "headrope"))
        for each in floats:
            x, y = self.at(head.point(each.position))
            r = min(5.0, max(2.6, (each.diameter or 0.2) * self.scale / 2))
            self.parts.append(Circle(x, y, r, "float", (("position", round(each.position, 6)),)))
            self.room.take(marks.box_round(x, y, r))

    def _sweep(self) -> None:
        rope = self.rig.footrope
        steps = 40
        places = [rope.port_end + rope.length * i / steps for i in range(steps + 1)]
        inner = [self.on_rope(at, marks.CHAIN) for at in places[1:-1]]
        ends = [self.on_rope(at) for at in (places[0], places[-1])]
        self.parts.append(Polyline((ends[0], *inner, ends[1]), "sweep"))

    def _droppers(self) -> None:
        for each in (self.ghost.droppers or ()) if self.ghost else ():
            x, y = self.on_rope(each.position)
            self.parts.append(marks.ring(x, y, each))
            self.room.take(marks.box_round(x, y, marks.RING))
        for each in self.rig.droppers or ():
            x, y = self.on_rope(each.position)
            low = each.position if each.sweep_position is None else each.sweep_position
            foot = self.on_rope(low, marks.CHAIN)
            self.parts += marks.hanging((x, y), foot, each)
            self.parts.append(marks.knot(x, y, each))
            self.room.take(marks.box_round(x, y, marks.DOT + 1))

    def _signposts(self) -> None:
        x, __ = self.on_rope(0)
        self.parts += marks.arrow(x, 34, 10)
        self.room.take(Box(x - 8, 8, x + 8, 36))
        self._letter(Text(x, 45, "ahead", "label-quiet", 12))
        self._letter(Text(10, 16, PORT, "label-strong", anchor=START))
        self._letter(Text(WIDTH - 10, 16, STARBOARD, "label-strong", anchor=END))

    def _letter(self, *choices: Text) -> Text | None:
        """Set the first of ``choices`` that finds room; return it, or None."""
        text = self.room.place(choices)
        if text is not None:
            self.letters.append(text)
        return text

    def _lettered(
        self, position: float, words: str, style: str, outs: Sequence[float]
    ) -> Text | None:
        """Set ``words`` beside a place, as near as there is room, with a leader if far."""
        for out in outs:
            x, y, anchor = self.beside(position, out)
            text = self._letter(Text(x, y, words, style, LETTER, anchor, True))
            if text is None:
                continue
            if abs(out) > 40:
                near = self.on_rope(position, marks.CHAIN if out > 0 else -9)
                self.parts.append(Line(*near, *self.on_rope(position, out - 4), "dimension"))
            return text
        return None

    def _names(self) -> None:
        rope = self.rig.footrope
        self._lettered(0, "center", "label-strong", (22, 38, 54, -24))
        for side in (PORT, STARBOARD):
            self._lettered(rope.corner(side), "corner", "label-strong", (20, 46, 60, -14, -30))
            x, y = self.on_rope(rope.end(side))
            anchors = (MIDDLE, START if side == PORT else END)
            self._letter(
                *(Text(x, y - 17, _("wing end"), "label-strong", anchor=a) for a in anchors)
            )

    def _on_the_footrope(self) -> Iterator[str]:
        for start, end in zip(self.stops, self.stops[1:], strict=False):
            words = feet_inches(end - start, self.finest)
            if not self._lettered((start + end) / 2, words, "label", (_BESIDE, 26, 46, -12)):
                yield words

    def _float_gaps(self, head: HeadropeCurve, floats: Sequence[Float]) -> Iterator[str]:
        """Write in those gaps between floats that are unlike the others; yield as above."""
        usual, gaps = _usual_gap(head.length, floats)
        for start, end in gaps:
            if abs(end - start - usual) < 0.01:
                continue
            x, y = self.at(head.point((start + end) / 2))
            words = feet_inches(end - start, self.finest)
            written = self._letter(
                *(
                    Text(x + dx, y + dy, words, "label-quiet", 12, anchor, True)
                    for dx, dy, anchor in (
                        (0, -13, MIDDLE),
                        (8, 0, START),
                        (-8, 0, END),
                        (0, -26, MIDDLE),
                    )
                )
            )
            if not written:
                yield words

    # what fails

    def _faults(self) -> None:
        for number, finding in marks.numbered(self.verdict):
            for spot in finding.spots or (finding.key,):
                self._fault(number, spot)

    def _fault(self, number: int, spot: Spot) -> None:
        on_foot = marks.along_footrope(spot, self.rig.footrope)
        if on_foot:
            middle = sum(on_foot) / 2
            self._mark(on_foot, self.mouth)
            self._badge(number, [self.on_rope(middle, out) for out in (-20, 32, -38, 50)])
            return
        on_head = marks.along_headrope(spot, self.head.length) if self.head else None
        if self.head and on_head:
            x, y = self.at(self.head.point(sum(on_head) / 2))
            self._mark(on_head, self.head)
            self._badge(number, [(x, y - 20), (x + 20, y), (x - 20, y), (x, y + 20)])

    def _mark(self, place: Stretch, rope: Mouth | HeadropeCurve) -> None:
        start, end = place
        if end > start:
            run = rope.stretch(start, end)
            self.flags.append(Polyline(tuple(map(self.at, run)), "fault-stretch"))
        else:
            self.flags.append(marks.framed(*self.at(rope.point(start))))

    def _badge(self, number: int, choices: Iterable[XY]) -> None:
        for x, y in choices:
            box = marks.box_round(x, y, marks.BADGE + 1)
            if self.room.is_free(box):
                self.room.take(box)
                self.letters += marks.badge(number, x, y)
                return

    # under the drawing

    def _below(self) -> float:
        if self.ghost is not None:
            entries: list[KeyEntry] = [
                (marks.sign_of_dropper, self.names[0]),
                (marks.sign_of_ring, self.names[1]),
            ]
        else:
            entries = [(marks.sign_of_dropper, "dropper")]
        entries += [(marks.sign_of_corner, "corner"), (marks.sign_of_footrope, "footrope")]
        if self.rig.floats:
            entries.append((marks.sign_of_floats, _("headrope with floats")))
        elif self.head:
            entries.append((marks.sign_of_headrope, "headrope"))
        if self.rig.sweep is not None:
            entries.append((marks.sign_of_sweep, "sweep"))
        shapes, y = marks.legend(entries, self.tail + 22)
        faults = marks.numbered(self.verdict)
        if faults:
            more, y = marks.fault_key(faults, y + 6)
            shapes += more
        words = marks.footrope_words(self.rig.footrope)
        if self.rig.headrope.length is not None:
            words += _(" Headrope {feet_inches}.").format(
                feet_inches=feet_inches(self.rig.headrope.length, self.finest)
            )
        if self.rig.floats and self.head:
            words += _(" Floats {feet_inches} apart.").format(
                feet_inches=feet_inches(
                    _usual_gap(self.head.length, self.rig.floats)[0], self.finest
                )
            )
        more, y = marks.paragraph(words, y + 4)
        self.parts += shapes + more
        return y + 4


def _usual_gap(length: float, floats: Iterable[Float]) -> tuple[float, list[Stretch]]:
    """Return the commonest space between floats, and all gaps along so long a headrope."""
    half = length / 2
    places = sorted(each.position for each in floats)
    ends = [-half, *places, half]
    gaps = [(a, b) for a, b in zip(ends, ends[1:], strict=False) if b - a > 1e-3]
    common = Counter(round(b - a, 2) for a, b in gaps).most_common(1)[0][0]
    usual = next(b - a for a, b in gaps if round(b - a, 2) == common)
    return usual, gaps
