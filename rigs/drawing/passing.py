"""The footrope raised or lowered before what lives there: who passes under it, who goes in."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from itertools import groupby
from typing import NamedTuple

from rigs.physics.tow import Hang
from rigs.words.say import gettext as _
from rigs.words.say import ngettext
from rigs.words.units import INCH, inches

from . import creatures
from .netting import weave
from .scene import END, START, WIDTH, XY, Circle, Line, Polygon, Polyline, Scene, Shape, Text

SCALE = 5 / INCH  # drawing units to the metre
BED = 236
HEIGHT = 264
_ROPE = 96
_RISE = 0.06  # of the belly, to the unit aft
_HIGH = 330  # of the netting drawn: more than there is room for, so that it can be lowered
_LETTER = 14
_ROOM = 2  # between an animal in the net and the belly

Form = Callable[[float, float], tuple[Shape, ...]]
"""Draws an animal with its middle at x and y."""


class Life(NamedTuple):
    """An animal: its ``sort``, its form, where it is drawn, and its height above the bottom."""

    sort: str
    form: Form
    x: float
    y: float

    def at(self, lift: float = 0.0) -> tuple[Shape, ...]:
        """Return its shapes, ``lift`` units above its own place."""
        return self.form(self.x, self.y - lift)

    @property
    def top(self) -> float:
        """How high it reaches above the bottom, in metres, as it is drawn."""
        return (BED - _ends(self.at())[0]) / SCALE

    @property
    def middle(self) -> float:
        """How high the middle of it is above the bottom, in metres."""
        return (BED - self.y) / SCALE

    @property
    def stays_down(self) -> bool:
        return self.sort != HAKE

    def passes_under(self, height: float) -> bool:
        """Return whether a footrope at ``height`` metres goes over it."""
        return (self.top if self.stays_down else self.middle) < height


FLATFISH, CRAB, LOBSTER, HAKE = "flatfish", "crab", "lobster", "hake"


def _flatfish(x: float, y: float) -> tuple[Shape, ...]:
    return tuple(creatures.flatfish(x, y, 46))


def _crab(x: float, y: float) -> tuple[Shape, ...]:
    return tuple(creatures.crab(x, y, 28))


def _lobster(x: float, y: float) -> tuple[Shape, ...]:
    return tuple(creatures.lobster(x, y, 58))


def _hake(x: float, y: float) -> tuple[Shape, ...]:
    return tuple(creatures.fish(x, y, 54))


LIVES = (
    Life(FLATFISH, _flatfish, 140, BED - 6),
    Life(CRAB, _crab, 196, BED - 7),
    Life(LOBSTER, _lobster, 252, BED - 7),
    Life(FLATFISH, _flatfish, 318, BED - 6),
    *(
        Life(HAKE, _hake, x, BED - up * INCH * SCALE)
        for x, up in ((150, 19.5), (300, 23.5), (226, 28.5), (318, 33.5), (160, 39.5))
    ),
)
"""
What is drawn. The sizes of the animals, and the heights at which hake swim, are for the picture.

That hake rise ahead of the net while flatfish, crabs and lobsters stay down is what the trade
says, with no source.
"""


def _ends(shapes: Iterable[Shape]) -> tuple[float, float]:
    """Return the least and the greatest y of ``shapes``."""
    found: list[float] = []
    for shape in shapes:
        match shape:
            case Circle():
                found += [shape.y - shape.r, shape.y + shape.r]
            case Polygon() | Polyline():
                found += [y for __, y in shape.points]
    return min(found), max(found)


def sorted_out(height: float) -> tuple[list[Life], list[Life]]:
    """Return those that pass under a footrope at ``height`` metres, and those that go in."""
    under = [life for life in LIVES if life.passes_under(height)]
    return under, [life for life in LIVES if life not in under]


def lift(life: Life, height: float) -> float:
    """Return how many units above its own place ``life`` is drawn: in the net it rises with it."""
    if life.passes_under(height):
        return 0.0
    belly = BED - height * SCALE - _RISE * (life.x - _ROPE)
    return max(0.0, _ends(life.at())[1] + _ROOM - belly)


def footrope(height: float) -> XY:
    """Return where a footrope at ``height`` metres is drawn, seen end on."""
    return _ROPE, BED - height * SCALE


def arrow(height: float) -> tuple[XY, ...]:
    """Return where the height of a footrope at ``height`` metres is drawn, from it down."""
    return (_ROPE - 26, BED - height * SCALE), (_ROPE - 26, BED)


def hanging(hang: Hang, height: float) -> tuple[XY, ...]:
    """Return where the chain of ``hang`` is drawn, from a footrope at ``height`` metres down."""
    top = hang.points[0][1]
    return tuple(
        (_ROPE + aft * SCALE, BED - (height - top + up) * SCALE) for aft, up in hang.points
    )


def lying(hang: Hang) -> tuple[XY, ...]:
    """Return where the part of the chain of ``hang`` is drawn that drags on the bottom."""
    if not hang.touches:
        return (-9, BED), (-9, BED)  # out of sight
    start = _ROPE + hang.aft * SCALE
    return (start, BED), (start + hang.shine * SCALE, BED)


def passing_view(hang: Hang, height: float) -> Scene:
    """
    Return the Scene of a footrope at ``height`` metres on droppers that hang as ``hang`` does.

    The net is towed to the left. What moves with the footrope says so as ``data-part``: the
    net, the chain, what of it drags, the height's arrow, its words, and each animal by number.
    """
    rope = BED - height * SCALE
    scene = Scene(WIDTH, HEIGHT, _("Who passes under the footrope"), " ".join(told(hang, height)))
    scene.add(Polygon(((0, 0), (WIDTH, 0), (WIDTH, HEIGHT), (0, HEIGHT)), "water"))
    scene.add(*_net(rope))
    scene.add(Polygon(((-4, BED), (WIDTH + 4, BED), (WIDTH + 4, 270), (-4, 270)), "seabed"))
    scene.add(*(Circle(9 + i * 23, BED + 9 + (i * 7) % 9, 0.9, "sand") for i in range(16)))
    scene.add(
        Polyline(hanging(hang, height), "dropper-chain", (("part", "chain"),)),
        Polyline(lying(hang), "link", (("part", "drags"),)),
        Polyline(lying(hang), "shine", (("part", "drags"),)),
        Polyline(arrow(height), "dimension", (("part", "arrow"),)),
        Circle(_ROPE, rope, 6, "corner", (("part", "net"),)),
    )
    for number, life in enumerate(LIVES):
        scene.add(*_marked(life.at(lift(life, height)), f"life-{number}"))
    scene.add(
        Line(240, 16, 216, 16, "arrow"),
        Polygon(((208, 16), (220, 10), (220, 22)), "arrow-head"),
        Text(WIDTH - 8, 16, _("towed this way"), "label-quiet", _LETTER, END, halo=True),
        Text(
            8,
            rope - 33,
            height_words(height),
            "label-strong",
            _LETTER,
            START,
            halo=True,
            data=(("part", "words"),),
        ),
    )
    return scene


def _net(rope: float) -> list[Shape]:
    """Return the shapes of the net over a footrope seen end on at the height ``rope``."""
    end = WIDTH + 8

    def edge(x: float) -> float:
        return rope - _RISE * (x - _ROPE)

    corners = ((_ROPE, rope), (end, edge(end)), (end, rope - _HIGH), (_ROPE - 40, rope - _HIGH))
    columns, rows = 9, 10

    def knot(i: int, j: int) -> XY:
        up = j / rows
        left, across = _ROPE - 40 * up, i / columns
        x = left + (end - left) * across
        return x, edge(_ROPE + (end - _ROPE) * across) * (1 - up) + (rope - _HIGH) * up

    return _marked(
        (
            Polygon(corners, "netting"),
            *weave(knot, columns, rows),
            Line(_ROPE, rope, end, edge(end), "belly"),
        ),
        "net",
    )


def _marked(shapes: Sequence[Shape], part: str) -> list[Shape]:
    """Return ``shapes`` as ones that belong to the moving ``part``."""
    return [replace(shape, data=(("part", part),)) for shape in shapes]


def height_words(height: float) -> str:
    """Return the footrope's height in words for the drawing."""
    if height <= 0:
        return _("footrope on the bottom")
    return _("footrope {inches} up").format(inches=inches(height, 1))


def told(hang: Hang, height: float) -> tuple[str, ...]:
    """Return what is seen: how the footrope and its droppers are, who passes, who goes in."""
    under, inside = sorted_out(height)
    return (
        f"{_rope_words(height)} {_chain_words(hang)}",
        _("Under it: {listed}.").format(listed=_listed(under)),
        _("Into the net: {listed}.").format(listed=_listed(inside)),
    )


def _rope_words(height: float) -> str:
    if height <= 0:
        return _("The footrope is on the bottom.")
    return _("The footrope is {inches} off the bottom.").format(inches=inches(height, 1))


def _chain_words(hang: Hang) -> str:
    if not hang.touches:
        return _("The droppers hang clear of the bottom.")
    if hang.shine >= hang.length:
        return _("Each dropper drags along its whole length.")
    if hang.shine < INCH:
        return _("The droppers only just touch.")
    return _("About {inches} of each dropper drags.").format(inches=inches(hang.shine, 1))


def _listed(lives: Sequence[Life]) -> str:
    """Return how many of each sort ``lives`` are, in words."""
    if not lives:
        return _("nothing")
    named = {
        FLATFISH: lambda count: ngettext("{count} flatfish", "{count} flatfish", count),
        CRAB: lambda count: ngettext("{count} crab", "{count} crabs", count),
        LOBSTER: lambda count: ngettext("{count} lobster", "{count} lobsters", count),
        HAKE: lambda count: ngettext("{count} hake", "{count} hake", count),
    }
    order = [FLATFISH, CRAB, LOBSTER, HAKE]
    found = sorted((life.sort for life in lives), key=order.index)
    counts = [(sort, len(list(group))) for sort, group in groupby(found)]
    return ", ".join(named[sort](count).format(count=count) for sort, count in counts)
