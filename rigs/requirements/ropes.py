"""Headrope and footrope."""

from dataclasses import replace
from math import inf

from rigs.words.gear import PORT, STARBOARD, Headrope, Rig
from rigs.words.say import gettext as _
from rigs.words.say import gettext_lazy
from rigs.words.units import FOOT, INCH, feet_inches

from .base import MORE_OR_LESS, Measure
from .floats import even_floats
from .layout import floats
from .making import CannotMake, Making, Told, there
from .questions import LENGTH, OnSheet, Question, Total, each_side, one
from .readings import Between, Readings
from .sights import LookedAt, Sights
from .sizing import Sizing
from .spans import NEAREST, Steps
from .worked_out.ropes import FOOTROPE_EXCESS

HEADROPE = Question(
    "headrope",
    gettext_lazy("Headrope, wing end to wing end"),
    LENGTH,
    "ft",
    "headrope",
    of=lambda rig: rig.headrope.length,
    stop="headrope",
    place=10,
)
BOSOM = Question(
    "bosom",
    gettext_lazy("Bosom, corner to corner"),
    LENGTH,
    "ft",
    "bosom",
    of=lambda rig: rig.footrope.bosom,
    stop="center",
    place=20,
)
WING = each_side(
    lambda side: Question(
        f"{side}_wing",
        _("Wing end to the corner, along the footrope"),
        LENGTH,
        "ft",
        "wing",
        of=lambda rig: rig.footrope.wing(side),
        stop=f"{side}_wing",
        place=40,
    )
)
FOOTROPE = ((1, WING[PORT]), (1, BOSOM), (1, WING[STARBOARD]))
"""The terms of its whole length."""

_SHORTEST = 12 * FOOT  # a headrope shorter than that is on no trawl (common practice, no source)


class FootropeOverHeadrope(Measure, shared=True):
    """By how much the footrope is longer than the headrope."""

    dimension = "length"
    about = gettext_lazy("Headrope and footrope")
    allowance = "length"
    zero = MORE_OR_LESS
    scale = Steps(3 * INCH, 8)
    rehangs = True

    def read(self, rig: Rig) -> Readings | None:
        if rig.headrope.length is None:
            return [Between(-inf, rig.footrope.length)], ("footrope",)
        return [rig.footrope.length - rig.headrope.length], ("footrope",)

    sheet = OnSheet((Total("footrope", (*FOOTROPE, (-1, HEADROPE))),))

    def spoil(self, making: Making) -> Rig:
        """Make the headrope so long, and set floats along it as sparsely as is allowed."""
        head = Headrope(making.rig.footrope.length - making.reading())
        ball = there(there(making.rig.floats)[0].diameter)
        return making.rig.with_(headrope=head, floats=floats(head, making.rules, ball))

    def put(self, making: Making) -> Rig:
        """Make the headrope so long, and set its floats anew as evenly as they were."""
        head = Headrope(making.rig.footrope.length - making.reading())
        if there(head.length) < _SHORTEST:
            raise CannotMake(self.key)
        ball = there(there(making.rig.floats)[0].diameter)
        return making.rig.with_(
            headrope=head, floats=even_floats(head, making.rng, making.rules, ball)
        )

    def near(self, making: Making) -> Told | None:
        """Headrope and footrope, to be held against each other."""
        rope = making.rig.footrope
        length = rope.length - making.reading()
        if length <= 0:
            return None
        head, ball = Headrope(length), there(there(making.rig.floats)[0].diameter)
        rig = making.rig.with_(headrope=head, floats=floats(head, making.rules, ball))
        return rig, (
            _("The headrope is {feet_inches} long.").format(feet_inches=feet_inches(length)),
            _("The footrope is {feet_inches} long.").format(feet_inches=feet_inches(rope.length)),
        )


class FootropeLonger(FootropeOverHeadrope):
    """That the footrope is longer than the headrope."""

    key = "footrope_longer"
    on_drawing = gettext_lazy("Compare the starboard ends of the two ropes.")
    turn = 10


class FootropeExcess(FootropeOverHeadrope):
    """That the footrope is not too much longer than the headrope."""

    key = "footrope_excess"
    sizes_of = gettext_lazy("How much longer the footrope is than the headrope")
    on_drawing = gettext_lazy("Measure between the starboard ends of the two ropes.")
    worked_out = FOOTROPE_EXCESS
    turn = 11


class OffBottom(LookedAt):
    """Whether the net is rigged to fly clear of the bottom."""

    key = "off_bottom"
    about = gettext_lazy("Footrope under tow")
    met = Sights(
        plain=(
            gettext_lazy("Under tow the footrope flies clear above the bottom."),
            gettext_lazy("Only the droppers reach the bottom under tow."),
        ),
        close=(
            gettext_lazy("The last links of the droppers are worn bright. The footrope is clean."),
            gettext_lazy(
                "The droppers trail along the bottom under tow, with the footrope above them."
            ),
            gettext_lazy("Mud sticks to the lower ends of the droppers. The footrope has none."),
        ),
    )
    broken = Sights(
        plain=(
            gettext_lazy("Under tow the footrope drags along the bottom from wing to wing."),
            gettext_lazy("Weights hang on the footrope, so that it rides on the bottom."),
        ),
        close=(
            gettext_lazy(
                "The last links of the droppers are clean. The footrope is worn underneath."
            ),
            gettext_lazy("The droppers trail behind under tow, with the footrope on the bottom."),
            gettext_lazy("Mud and shell stick to the underside of the footrope along the bosom."),
        ),
    )

    def read(self, rig: Rig) -> Readings | None:
        return [rig.footrope.off_bottom], ("footrope",)

    sheet = one(
        "footrope",
        Question(
            "off_bottom",
            gettext_lazy("Is the footrope rigged to stay off the bottom?"),
            of=lambda rig: rig.footrope.off_bottom,
            stop="center",
            place=30,
        ),
    )

    def breach(self, rig: Rig, side: str, wire: str) -> Rig:
        return rig.with_(footrope=replace(rig.footrope, off_bottom=False))


def drawn(rig: Rig, sizing: Sizing) -> Rig:
    """Return ``rig`` with a headrope shorter than its footrope by a little, or by much."""
    edge = sizing.rng.choice([FootropeLonger.key, FootropeExcess.key])
    return rig.with_(headrope=Headrope(rig.footrope.length - sizing.sound(edge)))


def eased(rig: Rig, sizing: Sizing) -> Rig:
    """Return ``rig`` with a headrope whose length is clear of both its limits."""
    most, rng = round(sizing.limit(FootropeExcess.key) / FOOT), sizing.rng
    hard = sizing.level == NEAREST
    shorter = rng.choice([1, 2, most - 2, most - 1]) if hard else rng.randint(4, 12)
    return rig.with_(headrope=Headrope(rig.footrope.length - shorter * FOOT))
