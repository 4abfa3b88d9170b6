"""
What all sheets share: a tape, a scale bar, marks of what fails, measurements laid over.

Lengths to be measured run along x. A sheet is shown at a pixel of the screen to the
unit, or enlarged by one of its ``zooms``.
"""

from collections.abc import Sequence
from dataclasses import replace
from math import ceil
from typing import NamedTuple

from rigs.rules.judge import Verdict
from rigs.words.gear import Rig
from rigs.words.places import Spot
from rigs.words.say import gettext as _
from rigs.words.units import INCH, feet_inches, inches

from .. import marks
from ..lettering import Box, Room, text_width
from ..scene import LETTER, MIDDLE, START, WIDTH, Line, Polygon, Scene, Shape, Text

START_X = 24
"""Where the lengths on a sheet begin, in units from its left edge."""

FINEST = 4
"""Pixels that can be told with the measuring tool on a small screen, two for each of its ends."""


_NAMED = 3  # of the things that end at one place


class Point(NamedTuple):
    """A place along a sheet that something begins or ends at: units, and what it is."""

    x: float
    name: str


class Measurement(NamedTuple):
    """A length that somebody measured on a sheet: its name, and from where to where, units."""

    name: str
    start: float
    end: float


def _listed(names: Sequence[str]) -> str:
    """Return the first of ``names`` in one phrase, and how many more there are."""
    more = _(" and {value} more").format(value=len(names) - _NAMED) if len(names) > _NAMED else ""
    return ", ".join(names[:_NAMED]) + more


def without(rig: Rig, part: str, **changes: object) -> Rig:
    """Return ``rig`` with ``changes`` made to each of its parts called ``part``."""
    return rig.with_(**{part: tuple(replace(each, **changes) for each in getattr(rig, part))})


class Sheet:
    """
    One drawing to scale of a rig.

    A subclass says which requirements it shows (``keys``), what must not be read off it
    (``note``), how many units make a metre
    (``scale``), how far it can be enlarged (``zooms``), the tape drawn along it (``tick``
    metres between marks, a number at every ``numbered`` of them, ``tape`` what the numbers
    are) and the length of its scale bar in metres and words (``bar``). ``under`` is into
    how many parts of an inch the tool reads. It draws its own part in ``body``.
    """

    name = ""
    title = ""
    note = ""
    keys: tuple[str, ...] = ()
    scale = 1.0
    zooms: tuple[int, ...] = (1, 2)
    under = 16
    in_fathoms = False
    tick = 1.0
    numbered = 1
    tape = ""
    bar = (1.0, "")

    def __init__(self, rig: Rig) -> None:
        self.rig = rig
        self.parts: list[Shape] = []
        self.letters: list[Shape] = []
        self.spans: list[tuple[object, Box]] = []  # a part of the rig or a name, its Box
        self.ends: dict[float, list[str]] = {}  # names of what begins or ends there, by x
        self.width = max(WIDTH, self.x(self.longest()) + START_X)
        self.room = Room(Box(3, 3, self.width - 3, 4000))
        self.bottom = self.body()

    @classmethod
    def metres_per_unit(cls) -> float:
        return 1 / cls.scale

    @classmethod
    def resolution(cls) -> float:
        """Return the metres that the tool tells, enlarging most, in whole parts of an inch."""
        told = FINEST / cls.zooms[-1] / cls.scale
        return ceil(told / INCH * cls.under - 1e-6) / cls.under * INCH

    @classmethod
    def room_needed(cls) -> float:
        """Return the metres by which what is shown must miss a limit, to be told for sure."""
        return 2 * cls.resolution()

    @classmethod
    def hidden(cls, rig: Rig) -> Rig:
        """Return ``rig`` without what only this sheet shows."""
        return rig

    @classmethod
    def say(cls, metres: float) -> str:
        """Return a length as it is read off this sheet."""
        return (feet_inches if metres >= 0.3 else inches)(metres, cls.under)

    def x(self, metres: float) -> float:
        """Return the x of a place so many metres from where lengths begin."""
        return START_X + metres * self.scale

    def longest(self) -> float:
        """Return the greatest length on the sheet in metres."""
        return 0.0

    def body(self) -> float:
        """Draw what is to be measured; return the y of its lower edge."""
        raise NotImplementedError

    def words(self) -> str:
        """Return what is drawn in a few words, without any measure."""
        raise NotImplementedError

    @property
    def points(self) -> tuple[Point, ...]:
        """The Points on the sheet from left to right, each x once."""
        return tuple(Point(x, _listed(names)) for x, names in sorted(self.ends.items()))

    # for subclasses

    def point(self, x: float, name: str) -> None:
        """Note that something called ``name`` begins or ends at ``x``."""
        names = self.ends.setdefault(round(x, 3), [])
        if name not in names:
            names.append(name)

    def letter(self, *choices: Text) -> None:
        """Set the first of ``choices`` that finds room."""
        text = self.room.place(choices)
        if text is not None:
            self.letters.append(text)

    def take(self, spot: object, box: Box) -> None:
        """Note that ``spot``, a part of the rig, is drawn within ``box``."""
        self.spans.append((spot, box))

    def box_of(self, spot: Spot, key: str) -> Box | None:
        """Return the Box that a ``spot`` failing ``key`` is drawn in, None if it is not here."""
        return self.taken_by(spot)

    def taken_by(self, spot: object) -> Box | None:
        """Return the Box noted for ``spot``, None if there is none."""
        return next((box for part, box in self.spans if part == spot), None)

    # the scene

    def scene(
        self, verdict: Verdict | None = None, measurements: Sequence[Measurement] = ()
    ) -> Scene:
        """
        Return the Scene of the sheet.

        What fails of its ``keys`` in ``verdict`` is framed and listed; ``measurements`` are
        laid over it with their lengths. Its data give ``metres-per-unit``.
        """
        faults = [each for each in marks.numbered(verdict) if each[1].key in self.keys]
        shapes: list[Shape] = [*self.parts, *self.letters]
        for number, finding in faults:
            for spot in finding.spots or (finding.key,):
                shapes += self._framed(number, self.box_of(spot, finding.key))
        more, y = self._below()
        shapes += more
        more, y = self._laid_over(measurements, y)
        shapes += more
        if faults:
            more, y = marks.fault_key(faults, y + 12, WIDTH)
            shapes += more
        paper = Polygon(((0, 0), (self.width, 0), (self.width, y), (0, y)), "paper")
        words = [self.words(), self.note, _("Drawn to scale; lengths are left for you to measure.")]
        return Scene(
            self.width,
            y,
            self.title,
            " ".join([*filter(None, words)] + marks.fault_words(faults)),
            [paper, *shapes],
            (("metres-per-unit", f"{self.metres_per_unit():.8f}"),),
        )

    def _framed(self, number: int, box: Box | None) -> tuple[Shape, ...]:
        """Return the frame round what fails, with its number beside it."""
        if box is None:
            return ()
        left, top, right, bottom = box
        corners = ((left, top), (right, top), (right, bottom), (left, bottom))
        x = min(right + marks.BADGE, self.width - marks.BADGE)
        return (Polygon(corners, "fault"), *marks.badge(number, x, top + marks.BADGE))

    def _below(self) -> tuple[list[Shape], float]:
        """Return the tape and the scale bar under the drawing, and where they end."""
        shapes, y = self.tape_below(self.bottom + 8)
        length, words = self.bar
        end = self.x(length)
        shapes += [
            Line(START_X, y, end, y, "arrow"),
            Line(START_X, y - 5, START_X, y + 5, "arrow"),
            Line(end, y - 5, end, y + 5, "arrow"),
            Text(
                end + 8,
                y,
                _("this bar is {words}").format(words=words),
                "label-strong",
                LETTER,
                START,
            ),
        ]
        return shapes, y + 16

    def tape_below(self, y: float) -> tuple[list[Shape], float]:
        """Return the tape along the whole sheet at height ``y``, and where it ends."""
        shapes = self.taped(START_X, y, self.width - 2 * START_X)
        return [*shapes, Text(START_X, y + 34, self.tape, "label-quiet", 12, START)], y + 54

    def taped(self, x: float, y: float, length: float) -> list[Shape]:
        """Return a tape ``length`` units long that begins at (x, y)."""
        shapes: list[Shape] = [Line(x, y, x + length, y, "scale")]
        step = self.tick * self.scale
        for count in range(int(length / step + 1e-6) + 1):
            numbered = count % self.numbered == 0
            at = x + count * step
            shapes.append(Line(at, y, at, y + (10 if numbered else 5), "scale"))
            if numbered and count:
                shapes.append(Text(at, y + 19, self.number(count), "label", 12))
        return shapes

    def number(self, count: int) -> str:
        """Return what is written at the tape's mark ``count``."""
        return str(count)

    def _laid_over(
        self, measurements: Sequence[Measurement], y: float
    ) -> tuple[list[Shape], float]:
        """Return the measurements, each in a row of its own under the drawing, and its end."""
        shapes: list[Shape] = []
        for number, each in enumerate(measurements, 1):
            y += 18
            start, end = sorted((each.start, each.end))
            for x in (start, end):
                shapes.append(Line(x, 4, x, y + 5, "measured"))
            shapes.append(Line(start, y, end, y, "measured"))
            words = f"{number}: {self.say((end - start) / self.scale)}"
            wide = text_width(words, LETTER, bold=True)
            x = min(max((start + end) / 2, wide / 2 + 4), self.width - wide / 2 - 4)
            y += 14
            shapes.append(Text(x, y, words, "label-ghost", LETTER, MIDDLE, True))
        for number, each in enumerate(measurements, 1):
            more, y = marks.paragraph(f"{number}: {each.name}", y + 18 if number == 1 else y, WIDTH)
            shapes += more
        return shapes, y
