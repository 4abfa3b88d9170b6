"""A fishery's area on a sea chart, with a position and the way to the nearest side."""

from collections.abc import Sequence
from math import ceil

from rigs.rules.openings import Closure, Part
from rigs.rules.rulebook import Area
from rigs.rules.waters import Standing
from rigs.words.bearing import NAUTICAL_MILE
from rigs.words.say import gettext as _
from rigs.words.trip import Position

from . import marks
from .lettering import Box, Room, text_box
from .projection import Bounds, Projection
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

_LEFT, _RIGHT, _TOP = 62, 10, 12
_MARGIN = 0.12
_FLATTEST, _TALLEST = 0.75, 1.25
_STEPS = (5, 10, 15, 20, 30, 60, 120, 300)  # minutes of arc between lines of the graticule
_PARALLELS, _MERIDIANS = 44, 70  # drawing units that each needs for its figures
_SCALES = (1, 2, 5, 10, 20, 50)  # nautical miles
_LONGEST_SCALE = 110
_CORNER, _SPOT = 2.6, 7
# Where a name may stand to its place: (right, down, which end of it is there).
_AROUND = (
    (0, -1, MIDDLE),
    (0, 1, MIDDLE),
    (1, 0, START),
    (-1, 0, END),
    (1, -1, START),
    (-1, -1, END),
    (1, 1, START),
    (-1, 1, END),
)

NEAR = 60 * NAUTICAL_MILE
"""A position farther from every side than this, in metres, is told but not drawn."""


def area_view(
    parts: Sequence[Part], position: Position | None = None, closures: Sequence[Closure] = ()
) -> Scene:
    """
    Return the Scene of the areas of ``parts``, openings.Parts, north upward.

    ``position``, a Position or None, is marked with the way to the nearest side. Of
    ``closures``, openings.Closures, is drawn what lies on the chart of those areas.
    The scene's data give ``metres-per-unit``.
    """
    return _AreaView(parts, position, closures).scene()


def _corner_positions(area: Area) -> dict[str, Position]:
    """Return {name: Position} of the corners of ``area``."""
    return {name: Position(latitude, longitude) for name, latitude, longitude in area.corners}


def _sign_of_position(x: float, y: float, r: float = _SPOT) -> tuple[Shape, ...]:
    """Return the ring with a cross in it that marks the position."""
    return (
        Circle(x, y, r, "position"),
        Line(x - r, y, x + r, y, "position"),
        Line(x, y - r, x, y + r, "position"),
    )


def _center(points: Sequence[XY]) -> XY:
    """Return the (x, y) in the middle of ``points``."""
    xs, ys = zip(*points, strict=True)
    return sum(xs) / len(points), sum(ys) / len(points)


def _rungs(first: float, last: float, most: float) -> range:
    """Return the minutes of arc from ``first`` to ``last`` degrees, ``most`` lines of them."""
    step = next((s for s in _STEPS if (last - first) * 60 / s <= most), _STEPS[-1])
    return range(ceil(first * 60 / step) * step, int(last * 60 // step) * step + 1, step)


def _degrees(minutes: int, letters: str) -> str:
    """Print minutes of arc as on the edge of a sea chart: ``42°10′N``."""
    degrees, rest = divmod(abs(minutes), 60)
    return f"{degrees}°{rest:02}′{letters[minutes < 0]}"


def _swatch(x: float, y: float) -> tuple[XY, ...]:
    return ((x - 9, y - 6), (x + 9, y - 6), (x + 9, y + 6), (x - 9, y + 6))


def _sign_of_open(x: float, y: float) -> tuple[Shape, ...]:
    return Polygon(_swatch(x, y), "area-open"), Line(x - 9, y + 6, x + 9, y + 6, "area-side")


def _sign_of_shut(x: float, y: float) -> tuple[Shape, ...]:
    return (Line(x - 9, y, x + 9, y, "area-shut"),)


def _sign_of_closure(x: float, y: float) -> tuple[Shape, ...]:
    return (Polygon(_swatch(x, y), "closure"),)


def _sign_of_shore(x: float, y: float) -> tuple[Shape, ...]:
    return (Line(x - 9, y, x + 9, y, "shore"),)


def _short(title: str) -> str:
    """Return the ``title`` of a closure as it is written in a key."""
    title = title.removeprefix("the ")
    return f"{title[0].upper()}{title[1:]}"


class _AreaView:
    """A view in the making."""

    def __init__(
        self, parts: Sequence[Part], position: Position | None, closures: Sequence[Closure]
    ) -> None:
        self.sea, self.position, self.closures = parts, position, closures
        self.corners: dict[str, Position] = {}
        for part in parts:
            self.corners |= _corner_positions(part.area)
        # Of several areas, those open on the day are what matters.
        told = [part for part in parts if part.is_open] or parts
        self.standing = min(
            (part.standing for part in told if part.standing),
            default=None,
            key=lambda standing: standing.run.metres,
        )
        around = [*self.corners.values()]
        self.is_drawn = self.standing is not None and self.standing.run.metres <= NEAR
        if self.is_drawn and position is not None:
            around.append(position)
        bounds = Bounds.round(around, _MARGIN).shaped(_FLATTEST, _TALLEST)
        self.map = Projection(bounds, _LEFT, _TOP, WIDTH - _LEFT - _RIGHT)
        self.right, self.bottom = WIDTH - _RIGHT, _TOP + self.map.height
        self.room = Room(Box(_LEFT, _TOP, self.right, self.bottom))
        self.center = _center([self.map.at(corner) for corner in self.corners.values()])
        self.shapes: list[Shape] = []
        self.letters: list[Shape] = []
        self.closed = self._closed()

    def _closed(self) -> list[tuple[Closure, tuple[XY, ...]]]:
        """Return (Closure, outline of what lies on the chart) for those that reach onto it."""
        import shapely

        frame = shapely.box(_LEFT, _TOP, self.right, self.bottom)
        found: list[tuple[Closure, tuple[XY, ...]]] = []
        for closure in self.closures:
            corners = _corner_positions(closure.area).values()
            seen = shapely.Polygon([self.map.at(corner) for corner in corners]) & frame
            found += [
                (closure, tuple(each.exterior.coords)[:-1])
                for each in shapely.get_parts(seen)
                if each.area > 0
            ]
        return found

    def scene(self) -> Scene:
        self._areas()
        self._graticule()
        self._sides()
        if self.is_drawn and self.position is not None and self.standing is not None:
            self._position(self.position, self.standing)
        self._names()
        self._scale()
        y = self._below()
        paper = Polygon(((0, 0), (WIDTH, 0), (WIDTH, y), (0, y)), "paper")
        return Scene(
            WIDTH,
            y,
            _("Sea chart: {join}").format(join=" and ".join(part.area.title for part in self.sea)),
            " ".join(self._words()),
            [paper, *self.shapes, *self.letters],
            (("metres-per-unit", f"{self.map.metres_per_unit:.6f}"),),
        )

    # the chart, from the back to the front

    def _areas(self) -> None:
        frame = (
            (_LEFT, _TOP),
            (self.right, _TOP),
            (self.right, self.bottom),
            (_LEFT, self.bottom),
        )
        self.shapes.append(Polygon(frame, "water"))
        for __, outline in self.closed:
            self.shapes.append(Polygon(outline, "closure"))
        for part in self.sea:
            if part.is_open:
                sides = map(self.map.at, _corner_positions(part.area).values())
                self.shapes.append(Polygon(tuple(sides), "area-open"))

    def _graticule(self) -> None:
        """Draw parallels and meridians, as far apart as their figures need."""
        bounds = self.map.bounds
        for minutes in _rungs(bounds.south, bounds.north, self.map.height / _PARALLELS):
            y = self.map.y(minutes / 60)
            self.shapes.append(Line(_LEFT, y, self.right, y, "graticule"))
            self.letters.append(Text(_LEFT - 5, y, _degrees(minutes, "NS"), "label-quiet", 12, END))
        for minutes in _rungs(bounds.west, bounds.east, self.map.width / _MERIDIANS):
            x = self.map.x(minutes / 60)
            self.shapes.append(Line(x, _TOP, x, self.bottom, "graticule"))
            label = Text(x, self.bottom + 13, _degrees(minutes, "EW"), "label-quiet", 12)
            if text_box(label).right <= WIDTH:
                self.letters.append(label)

    def _sides(self) -> None:
        """Draw what is shut first, so that the sides of what is open cover it."""
        for part in sorted(self.sea, key=lambda part: part.is_open):
            run = [self.map.at(each) for each in _corner_positions(part.area).values()]
            if part.area.closed_by:
                self.shapes.append(Line(*run[-1], *run[0], "shore"))
            else:
                run.append(run[0])
            self.shapes.append(Polyline(tuple(run), "area-side" if part.is_open else "area-shut"))
        for corner in self.corners.values():
            x, y = self.map.at(corner)
            self.shapes.append(Circle(x, y, _CORNER, "dropper"))
            self.room.take(marks.box_round(x, y, _CORNER))

    def _position(self, position: Position, standing: Standing) -> None:
        x, y = self.map.at(position)
        near = self.map.at(standing.nearest)
        self.shapes += [Line(x, y, *near, "nearest"), *_sign_of_position(x, y)]
        self.room.take(marks.box_round(x, y, _SPOT + 1))
        self._beside((x, y), _("the position"), "label-strong", LETTER, _SPOT)

    def _names(self) -> None:
        for name, corner in self.corners.items():
            self._beside(self.map.at(corner), name, "label-quiet", 12, _CORNER)

    def _beside(self, at: XY, words: str, style: str, size: float, reach: float) -> None:
        """Write ``words`` beside what reaches ``reach`` round ``at``, where there is room."""
        x, y = at
        out_x, out_y = x - self.center[0], y - self.center[1]
        # Outside the area for choice, where its sides do not run through the letters.
        around = sorted(_AROUND, key=lambda way: -(way[0] * out_x + way[1] * out_y))
        choices = (
            Text(x + dx * (reach + 3), y + dy * (reach + 9), words, style, size, anchor, True)
            for dx, dy, anchor in around
        )
        text = self.room.place(choices)
        if text is not None:
            self.letters.append(text)

    def _scale(self) -> None:
        unit = NAUTICAL_MILE / self.map.metres_per_unit
        miles = max((each for each in _SCALES if each * unit <= _LONGEST_SCALE), default=1)
        left, right, y = _LEFT, _LEFT + miles * unit, self.bottom + 34
        self.shapes.append(Line(left, y, right, y, "scale"))
        self.shapes += [Line(x, y - 5, x, y + 5, "scale") for x in (left, right)]
        words = _("{miles} nautical mile{value}").format(miles=miles, value="s" * (miles > 1))
        self.letters.append(Text(right + 8, y, words, anchor=START))

    # under the chart

    def _below(self) -> float:
        entries: list[KeyEntry] = []
        if any(part.is_open for part in self.sea):
            entries.append((_sign_of_open, _("open that day")))
        if not all(part.is_open for part in self.sea):
            entries.append((_sign_of_shut, _("not open that day")))
        titles = dict.fromkeys(_short(closure.area.title) for closure, __ in self.closed)
        entries += [(_sign_of_closure, title) for title in titles]
        if any(part.area.closed_by for part in self.sea):
            entries.append((_sign_of_shore, _("closed by the shoreline")))
        shapes, y = marks.legend(entries, self.bottom + 58)
        more, y = marks.paragraph(self._told(), y + 4)
        self.letters += [*shapes, *more]
        return y + 4

    def _told(self) -> str:
        """Return the sentence under the chart: where the position is."""
        if self.standing is None:
            return _("No position was given.")
        names, run = " to ".join(self.standing.side.names), self.standing.run
        if self.standing.on_the_line:
            return _("The position lies on the line {names}, as closely as we can tell.").format(
                names=names
            )
        told = _(
            "From the position to the nearest side, {names}: {distance_text}, bearing "
            "{bearing_text}."
        ).format(names=names, distance_text=run.distance_text, bearing_text=run.bearing_text)
        return (
            told if self.is_drawn else _("{told} That is too far away to show.").format(told=told)
        )

    def _words(self) -> list[str]:
        """Return the sentences that tell the chart to those who cannot see it."""
        words = [_("North is up.")]
        for part in self.sea:
            state = _("open that day") if part.is_open else _("not open that day")
            corners = _corner_positions(part.area).items()
            told = "; ".join(f"{name} {corner}" for name, corner in corners)
            words.append(
                _("Area: {title}, {state}. Corners: {told}.").format(
                    title=part.area.title, state=state, told=told
                )
            )
            if part.area.closed_by:
                words.append(
                    _("It is closed by {closed_by}.").format(closed_by=part.area.closed_by)
                )
        for closure in self.closures:
            corners = _corner_positions(closure.area).items()
            told = "; ".join(f"{name} {corner}" for name, corner in corners)
            words.append(
                _("Closure: {title}. Corners: {told}.").format(title=closure.area.title, told=told)
            )
        if self.position is not None:
            words.append(_("The position: {position}.").format(position=self.position))
        return [*words, self._told()]
