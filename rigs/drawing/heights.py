"""How high the footrope flew at each place where shine was read."""

from rigs.physics.practice import RuleOfThumb
from rigs.words.say import gettext as _
from rigs.words.units import feet_inches, inches

from .chart import LEFT, RIGHT, Scale, band_key, frame, key_line
from .flown import PlaceFlown, TowFlown
from .marks import diamond
from .scene import END, START, WIDTH, Circle, Line, Polygon, Polyline, Scene, Text

_TOP, _BED = 34, 240
_DOT = 5


def heights_view(heights: TowFlown, window: RuleOfThumb) -> Scene:
    """
    Return the Scene of ``heights``, a TowFlown, port at the left.

    ``window`` is the practice.RuleOfThumb for the height. Places are drawn evenly
    apart, not to scale along the rope.
    """
    places = heights.places
    scale = Scale(
        max(window.high, *(each.high for each in places), *(each.rule for each in places)),
        _TOP,
        _BED,
    )
    words = "; ".join(
        _("{name} {value}{inches}").format(
            name=each.name,
            value=_("at least ") if each.at_least else "",
            inches=inches(each.model, 1),
        )
        + (
            ""
            if each.at_least
            else _(", at most {inches} by length minus shine").format(inches=inches(each.rule, 1))
        )
        for each in places
    )
    scene = Scene(WIDTH, _BED + 128, _("The footrope's height over the bottom"), f"{words}.")
    right = WIDTH - RIGHT
    scene.add(
        Polygon(((0, 0), (WIDTH, 0), (WIDTH, scene.height), (0, scene.height)), "paper"),
        Polygon(((LEFT, _BED), (right, _BED), (right, _BED + 10), (LEFT, _BED + 10)), "seabed"),
    )
    frame(scene, scale, window)
    gap = (right - LEFT) / len(places)
    xs = [LEFT + gap * (i + 0.5) for i in range(len(places))]
    if len(places) > 1:
        rope = tuple((x, scale.y(each.model)) for x, each in zip(xs, places, strict=True))
        scene.add(Polyline(rope, "footrope"))
    for x, each in zip(xs, places, strict=True):
        _place(scene, scale, x, each)
    scene.add(
        Text(LEFT, 14, _("Port"), "label-strong", anchor=START),
        Text(right, 14, _("Starboard"), "label-strong", anchor=END),
    )
    key_line(
        scene,
        _BED + 64,
        (
            (
                lambda x, y: [Circle(x, y, _DOT, "dropper")],
                _("worked out under tow, with its range"),
            ),
            (lambda x, y: [diamond(x, y, 5, "ghost")], _("length minus shine, the most it can be")),
            band_key(window),
        ),
    )
    return scene


def _place(scene: Scene, scale: Scale, x: float, each: PlaceFlown) -> None:
    """Draw one place: spread, both heights, and their figures."""
    y, top, bottom = scale.y(each.model), scale.y(each.high), scale.y(each.low)
    scene.add(
        Line(x, top, x, bottom, "dimension"),
        Line(x - 5, top, x + 5, top, "dimension"),
        Line(x - 5, bottom, x + 5, bottom, "dimension"),
        # Without shine nothing touched, and length minus shine is no most.
        *(() if each.at_least else (diamond(x, scale.y(each.rule), 5, "ghost"),)),
        Circle(x, y, _DOT, "dropper"),
        Text(
            x,
            bottom + 11 if bottom + 20 < scale.bottom else top - 11,
            inches(each.model, 1),
            "label-strong",
            halo=True,
        ),
        Text(x, scale.bottom + 24, each.name.split()[-1]),
        Text(
            x,
            scale.bottom + 40,
            feet_inches(abs(each.position), 1) if each.position else "",
            "label-quiet",
        ),
    )
