"""What the graphs of figures share: axes with round numbers, room for labels, a key."""

from collections.abc import Callable, Iterable, Sequence
from datetime import date
from math import ceil, floor, log10

from rigs.words.days import short_day
from rigs.words.say import gettext as _

from .lettering import text_width, wrap
from .scene import END, LETTER, START, WIDTH, KeyEntry, Line, Polygon, Scene, Text

LEFT, RIGHT = 46, 16
EDGE = 12
ROW = 18
SMALL = 12

_ROUND = (1, 2, 5)
_MONTHS = (1, 3, 6, 12, 24, 60, 120)
_RATIOS = (0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50, 100)


class Axis:
    """
    Maps values from ``low`` to ``high`` to drawing units from ``start`` to ``end``.

    Values beyond are held at the ends. Raise ValueError for an axis without extent, or
    a logarithmic one, ``is_log``, that does not lie above nought.
    """

    def __init__(
        self, low: float, high: float, start: float, end: float, is_log: bool = False
    ) -> None:
        if high <= low or (is_log and low <= 0):
            raise ValueError(_("There is no axis from {low} to {high}.").format(low=low, high=high))
        self.low, self.high, self.start, self.end, self.is_log = low, high, start, end, is_log

    def at(self, value: float) -> float:
        """Return where ``value`` stands."""
        value = min(max(value, self.low), self.high)
        if self.is_log:
            share = log10(value / self.low) / log10(self.high / self.low)
        else:
            share = (value - self.low) / (self.high - self.low)
        return self.start + share * (self.end - self.start)


def round_step(most: float, steps: int) -> int:
    """Return the smallest whole 1, 2 or 5 times a power of ten that needs at most ``steps``."""
    power: int = 10 ** max(0, floor(log10(max(most, 1) / steps)))
    while True:
        for factor in _ROUND:
            if most <= factor * power * steps:
                return factor * power
        power *= 10


def whole_ticks(most: float, steps: int = 4) -> list[int]:
    """Return whole numbers from nought to ``most`` or a little beyond, evenly apart."""
    step = round_step(most, steps)
    return [step * i for i in range(max(1, ceil(most / step)) + 1)]


def ratio_ticks(low: float, high: float) -> list[float]:
    """Return round ratios that hold ``low`` and ``high`` between them, and 1."""
    below = [each for each in _RATIOS if each <= min(low, 0.5)]
    above = [each for each in _RATIOS if each >= max(high, 2)]
    first, last = below[-1] if below else _RATIOS[0], above[0] if above else _RATIOS[-1]
    return [each for each in _RATIOS if first <= each <= last]


def every(count: int, room: float, label_width: float) -> int:
    """Return how many of ``count`` places lie between labels so wide, one after another."""
    most = max(1, floor(room / label_width))
    for step in (1, 2, 3, 6, 12, 24, 60):
        if ceil(count / step) <= most:
            return step
    return ceil(count / most)


def spread(wanted: Sequence[float], apart: float, top: float, bottom: float) -> list[float]:
    """
    Return ``wanted``, heights in any order, moved as little as need be to be ``apart``.

    The order is kept. They lie from ``top`` to ``bottom`` if there is room for all of
    them, else they run on below.
    """
    order = sorted(range(len(wanted)), key=lambda i: (wanted[i], i))
    placed: list[float] = []
    for i in order:
        y = max(wanted[i], top)
        placed.append(max(y, placed[-1] + apart) if placed else y)
    limit = bottom
    for at in range(len(placed) - 1, -1, -1):
        placed[at] = max(min(placed[at], limit), top + apart * at)
        limit = placed[at] - apart
    found = [0.0] * len(wanted)
    for i, y in zip(order, placed, strict=True):
        found[i] = y
    return found


def blank(title: str, description: str, height: float) -> Scene:
    """Return a Scene of the usual width with its ground laid."""
    scene = Scene(WIDTH, height, title, description)
    scene.add(Polygon(((0, 0), (WIDTH, 0), (WIDTH, height), (0, height)), "paper"))
    return scene


def box(left: float, top: float, right: float, bottom: float, style: str) -> Polygon:
    """Return an upright rectangle."""
    return Polygon(((left, top), (right, top), (right, bottom), (left, bottom)), style)


def side(
    scene: Scene,
    axis: Axis,
    ticks: Iterable[float],
    words: Callable[[float], str] = str,
    right: float = WIDTH - RIGHT,
) -> None:
    """Draw an upright axis at LEFT with a line across for each of ``ticks``."""
    for tick in ticks:
        y = axis.at(tick)
        scene.add(
            Line(LEFT, y, right, y, "net"), Text(LEFT - 6, y, words(tick), size=SMALL, anchor=END)
        )


class Days:
    """
    Maps days from ``first`` to ``last`` across a drawing, each day as wide as any other.

    ``last`` is in it with its evening. Raise ValueError if it comes before ``first``.
    """

    def __init__(self, first: date, last: date, start: float, end: float) -> None:
        self.first, self.last = first, last
        self.axis = Axis(first.toordinal(), last.toordinal() + 1, start, end)

    def at(self, day: date) -> float:
        """Return where the morning of ``day`` lies."""
        return self.axis.at(day.toordinal())

    def ticks(self, room: float = 64) -> list[tuple[float, str]]:
        """
        Return (x, words) for days of the calendar, as many as find ``room`` each.

        They are first days of months, evenly apart from a January on. Where there are not
        two of them, the first and the last day stand for themselves.
        """
        begun = self.first.year * 12 + self.first.month - 1
        count = self.last.year * 12 + self.last.month - begun
        months = (date(each // 12, each % 12 + 1, 1) for each in range(begun, begun + count))
        firsts = [day for day in months if day >= self.first]
        most = max(2, int((self.axis.end - self.axis.start) // room))
        step = next((each for each in _MONTHS if count <= each * most), 12 * (1 + count // 12))
        chosen = [day for day in firsts if (day.year * 12 + day.month - 1) % step == 0]
        if len(chosen) >= 2:
            return [(self.at(day), f"{day:%b %Y}") for day in chosen]
        return [(self.at(day), short_day(day)) for day in sorted({self.first, self.last})]


def days_foot(scene: Scene, days: Days, y: float) -> None:
    """Draw a mark at ``y`` for days of the calendar, and write below which they are."""
    last = 0.0
    for x, words in days.ticks():
        half = text_width(words, SMALL) / 2
        middle = min(max(x, half + 2), WIDTH - half - 2)
        scene.add(Line(x, y, x, y + 5, "scale"))
        if middle - half > last:
            scene.add(Text(middle, y + 16, words, size=SMALL))
            last = middle + half + 6


def foot(scene: Scene, places: Sequence[tuple[float, str]], y: float, room: float) -> None:
    """Write ``places``, pairs of (x, label) from left to right, as many as find room at ``y``."""
    if not places:
        return
    width = max(text_width(label, SMALL) for __, label in places) + 8
    step = every(len(places), room, width)
    # Counted from the last one: the latest is what is looked for first.
    for x, label in places[::-1][::step]:
        half = text_width(label, SMALL) / 2
        x = min(max(x, half + 2), WIDTH - half - 2)
        scene.add(Text(x, y, label, size=SMALL))


def note(scene: Scene, y: float, words: str, style: str = "label-quiet") -> float:
    """Write ``words`` across the drawing from ``y`` down; return where they end."""
    for line in wrap(words, WIDTH - 2 * EDGE, SMALL):
        scene.add(Text(EDGE, y, line, style, SMALL, START))
        y += ROW - 2
    return y


def note_height(words: str) -> float:
    """Return how much room ``note`` takes for ``words``."""
    return (ROW - 2) * len(wrap(words, WIDTH - 2 * EDGE, SMALL))


def key(scene: Scene, y: float, entries: Iterable[KeyEntry]) -> float:
    """Write ``entries``, pairs of (function of x and y to shapes, words), one below another."""
    for sign, words in entries:
        scene.add(*sign(EDGE + 9, y))
        for line in key_lines(words):
            scene.add(Text(EDGE + 26, y, line, anchor=START))
            y += ROW
    return y


def key_lines(words: str) -> list[str]:
    """Return the lines that ``words`` take in the key."""
    return wrap(words, WIDTH - 2 * EDGE - 26, LETTER)


def key_height(entries: Iterable[KeyEntry]) -> float:
    """Return how much room ``key`` takes for ``entries``."""
    return ROW * sum(len(key_lines(words)) for __, words in entries)


def hatch(left: float, top: float, right: float, bottom: float, gap: float = 4) -> list[Line]:
    """Return level lines across a rectangle, at the same heights on the whole drawing."""
    first = ceil((top + 0.8) / gap)
    last = floor((bottom - 0.8) / gap)
    return [Line(left, gap * i, right, gap * i, "hatch") for i in range(first, last + 1)]
