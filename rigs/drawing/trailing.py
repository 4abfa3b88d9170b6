"""One dropper under tow: how it trails, and both heights of the footrope over the bottom."""

from collections.abc import Callable

from rigs.physics.tow import Hang, HeightReport
from rigs.words.say import gettext as _
from rigs.words.units import inches

from . import marks
from .scene import END, LETTER, START, WIDTH, Circle, Line, Polygon, Polyline, Scene, Shape, Text

_TOP, _BED = 40, 232
_ROPE = 92  # where the footrope is seen end on
_APART = 4


def trailing_view(report: HeightReport, longest: float) -> Scene:
    """
    Return the Scene of the dropper of ``report``, a tow.HeightReport, the stream running right.

    ``longest`` in metres fills the height of the drawing, so that drawings of several
    droppers can be held against each other.
    """
    scale = (_BED - _TOP) / longest
    rule, model, hang = report.rule, report.model, report.hang

    def y(height: float) -> float:
        return _BED - height * scale

    foot, below = marks.paragraph(_thought(report), _BED + 34)
    signs, end = marks.legend(
        (
            (_thumb_sign, _("length minus shine: the rule of thumb")),
            (_chain_sign, _("worked out under tow, with its range")),
        ),
        below + 4,
    )
    scene = Scene(WIDTH, end, _("A dropper under tow"), _words(report))
    scene.add(
        Polygon(((0, 0), (WIDTH, 0), (WIDTH, end), (0, end)), "paper"),
        Polygon(((0, _BED), (WIDTH, _BED), (WIDTH, _BED + 14), (0, _BED + 14)), "seabed"),
        Text(WIDTH - marks.EDGE, 14, _("the water runs to the right"), "label-quiet", LETTER, END),
        Line(_ROPE, _BED, _ROPE, y(rule.height), "ghost"),
        marks.diamond(_ROPE, y(rule.height), 5, "ghost"),
        Text(
            _ROPE + 10,
            y(rule.height) - 10,
            inches(rule.height, 1),
            "label-ghost",
            LETTER,
            START,
            halo=True,
        ),
    )
    scene.add(*_chain(hang, y, scale))
    scene.add(Circle(_ROPE, y(model.height), 6, "corner"))
    bar = _ROPE - 24
    scene.add(
        Line(bar, y(model.low), bar, y(model.high), "dimension"),
        *(Line(bar - 5, y(h), bar + 5, y(h), "dimension") for h in (model.low, model.high)),
        Circle(bar, y(model.height), 4, "dropper"),
        Text(bar - 12, y(model.height), inches(model.height, 1), "label-strong", LETTER, END),
    )
    scene.add(*foot, *signs)
    return scene


def _thumb_sign(x: float, y: float) -> tuple[Shape, ...]:
    return Line(x, y - 6, x, y + 6, "ghost"), marks.diamond(x, y - 6, 4, "ghost")


def _chain_sign(x: float, y: float) -> tuple[Shape, ...]:
    return (Line(x - 4, y - 6, x + 5, y + 6, "dropper-chain"),)


def _chain(hang: Hang, y: Callable[[float], float], scale: float) -> list[Shape]:
    """Return the shapes of the chain, or of both side by side; what lies is drawn worn."""
    shapes: list[Shape] = []
    for aside in range(hang.line.count):
        points = tuple((_ROPE + aft * scale + aside * _APART, y(up)) for aft, up in hang.points)
        shapes.append(Polyline(points, "dropper-chain"))
        start = _ROPE + hang.aft * scale + aside * _APART
        if hang.touches:
            lies = (start, _BED - 2, start + hang.shine * scale, _BED - 2)
            shapes += [Line(*lies, "link"), Line(*lies, "shine")]
    return shapes


def _thought(report: HeightReport) -> str:
    if report.at_least:
        return _("No shine: nothing touched, so the footrope may fly higher than either figure.")
    return _(
        "The bright part drags on the bottom; the rest trails aft and holds the footrope lower."
    )


def _words(report: HeightReport) -> str:
    model, rule = report.model, report.rule
    return _(
        "The dropper leaves the footrope at {top_degrees:.0f} degrees from the vertical. The "
        "footrope is {inches} up, worked out under tow, between {inches2} and {inches3}, and "
        "{inches4} up by length minus shine. {thought}"
    ).format(
        top_degrees=report.hang.top_degrees,
        inches=inches(model.height, 1),
        inches2=inches(model.low, 1),
        inches3=inches(model.high, 1),
        inches4=inches(rule.height, 1),
        thought=_thought(report),
    )
