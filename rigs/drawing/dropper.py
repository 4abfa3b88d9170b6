"""One dropper close up, as it is held up and measured on deck."""

from math import cos, pi, sin

from rigs.words.gear import Dropper
from rigs.words.say import gettext as _
from rigs.words.units import inches

from . import marks
from .lettering import wrap
from .scene import (
    END,
    LETTER,
    START,
    WIDTH,
    XY,
    Circle,
    Line,
    Polygon,
    Polyline,
    Scene,
    Shape,
    Text,
)

_ROPE = 40
_TOP = 58
_LINKS = 17
_PITCH = 14
_BOTTOM = _TOP + _LINKS * _PITCH
_HALF_WIDTH = 5.2
_APART = 15


def close_up(dropper: Dropper, shine: float | None = None, reckoned: bool = True) -> Scene:
    """
    Return the Scene of ``dropper`` hung from the footrope, with its measures.

    ``shine`` is the length in metres of its bright lower end, None if not looked at.
    With it, and if ``reckoned``, the length minus the shine is written in as the rule of
    thumb for the footrope's height. Lengths are in proportion, links are not counted. Raise
    ValueError if the shine is longer than the dropper or the dropper unmeasured.
    """
    bright, rest = 0.0, None
    if shine is not None:
        if dropper.length is None or not 0 <= shine <= dropper.length:
            raise ValueError(_("The shine is a part of the dropper's own measured length."))
        bright = shine / dropper.length
        rest = dropper.length - shine if reckoned else None
    parts = _rope()
    middle = WIDTH / 2
    for x in (middle - _APART, middle + _APART) if dropper.count > 1 else (middle,):
        parts += _chain(x, bright)
    if dropper.bare is False:
        parts += [Circle(middle, _TOP + _PITCH * at, 9, "weight") for at in (7, 9)]
    parts += _measures(dropper, shine, _BOTTOM - bright * _LINKS * _PITCH, rest)
    y = _BOTTOM + 28
    for line in () if rest is None else wrap(_thumb(rest), WIDTH - 2 * marks.EDGE):
        parts.append(Text(marks.EDGE, y, line, "label-quiet", LETTER, START))
        y += marks.ROW - 2
    paper = Polygon(((0, 0), (WIDTH, 0), (WIDTH, y), (0, y)), "paper")
    return Scene(WIDTH, y, _("One dropper close up"), _words(dropper, shine, rest), [paper, *parts])


def _chain_words(dropper: Dropper) -> str:
    if dropper.diameter is None:
        return _("chain, size not measured")
    each = _("{inches} chain").format(inches=inches(dropper.diameter))
    return _("two of {each}").format(each=each) if dropper.count > 1 else each


def _thumb(rest: float) -> str:
    """Return the rule of thumb, ``rest`` being the metres of length minus shine."""
    return _(
        "Rule of thumb: length minus shine, {inches}, is the most the footrope's height can "
        "be. Chain that trails aft under tow holds it lower."
    ).format(inches=inches(rest, 4))


def _words(dropper: Dropper, shine: float | None, rest: float | None) -> str:
    words = [
        _("A dropper of {chain_words} hangs from the footrope.").format(
            chain_words=_chain_words(dropper)
        )
    ]
    if dropper.length is not None:
        words.append(_("It is {inches} long.").format(inches=inches(dropper.length)))
    if dropper.bare is False:
        words.append(_("It is not bare: weights are threaded on it."))
    if shine is not None:
        words.append(_("The lowest {inches} is worn bright.").format(inches=inches(shine, 4)))
    if rest is not None:
        words.append(_thumb(rest))
    return " ".join(words)


def _rope() -> list[Shape]:
    return [
        Line(40, _ROPE, WIDTH - 40, _ROPE, "footrope"),
        Text(40, _ROPE - 18, "footrope", "label-strong", LETTER, START),
    ]


def _link(x: float, y: float) -> tuple[XY, ...]:
    """Return the outline of a link seen face on, its middle at (x, y)."""
    straight = _PITCH / 2 + 1.6 - _HALF_WIDTH + 3.4
    points = []
    for end in (-1, 1):
        for i in range(9):
            turn = pi * i / 8
            points.append(
                (x - end * -cos(turn) * _HALF_WIDTH, y + end * (straight + sin(turn) * _HALF_WIDTH))
            )
    return (*points, points[0])


def _chain(x: float, bright: float) -> list[Shape]:
    """Return the links of one chain; the lowest share ``bright`` of them is worn."""
    shapes: list[Shape] = [Circle(x, _ROPE, 6, "link"), Line(x, _ROPE + 6, x, _TOP, "link")]
    worn_from = _BOTTOM - bright * _LINKS * _PITCH
    for i in range(_LINKS):
        y = _TOP + (i + 0.5) * _PITCH
        edge_on = ((x, y - _PITCH / 2 - 1), (x, y + _PITCH / 2 + 1))
        shape = edge_on if i % 2 else _link(x, y)
        shapes.append(Polyline(shape, "link"))
        if y > worn_from:
            shapes.append(Polyline(shape, "shine"))
    return shapes


def _span(x: float, top: float, bottom: float) -> list[Shape]:
    return [
        Line(x, top, x, bottom, "dimension"),
        Line(x - 5, top, x + 5, top, "dimension"),
        Line(x - 5, bottom, x + 5, bottom, "dimension"),
    ]


def _measures(
    dropper: Dropper, shine: float | None, worn_from: float, rest: float | None
) -> list[Shape]:
    left, right = WIDTH / 2 - 46, WIDTH / 2 + 46
    shapes: list[Shape] = [
        Text(WIDTH - 40, _ROPE - 18, _chain_words(dropper), "label", LETTER, END),
    ]
    if dropper.length is not None:
        middle = (_ROPE + _BOTTOM) / 2
        shapes += _span(left, _ROPE + 4, _BOTTOM + 4)
        shapes += [
            Text(left - 10, middle - 8, "length", "label-quiet", LETTER, END),
            Text(left - 10, middle + 8, inches(dropper.length), "label-strong", LETTER, END),
        ]
    if shine:
        middle = (worn_from + _BOTTOM) / 2
        shapes += _span(right, worn_from, _BOTTOM + 4)
        shapes += [
            Text(right + 10, middle - 8, "shine", "label-quiet", LETTER, START),
            Text(right + 10, middle + 8, inches(shine, 4), "label-strong", LETTER, START),
        ]
        if rest is not None and worn_from - _TOP > 70:
            over = (_ROPE + worn_from) / 2
            shapes += _span(right, _ROPE + 4, worn_from)
            shapes += [
                Text(right + 10, over - 24, "length", "label-quiet", LETTER, START),
                Text(right + 10, over - 8, _("minus shine"), "label-quiet", LETTER, START),
                Text(right + 10, over + 8, inches(rest, 4), "label-strong", LETTER, START),
            ]
    return shapes
