"""
The changes worth trying on a net, each with what it would do to the height.

Each maker yields Proposals of one kind, from the smallest change up, without asking
whether they help or are legal.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from rigs.make.changes import (
    commonest,
    longer_footrope,
    longer_headrope,
    more_droppers,
    more_floats,
)
from rigs.physics import chain
from rigs.physics.balance import ROPE_SIZE, float_lift, wire_mass_per_metre
from rigs.rules.rulebook import Rulebook
from rigs.words.gear import Rig
from rigs.words.say import gettext as _
from rigs.words.say import gettext_lazy, ngettext
from rigs.words.units import FOOT, feet_inches, inches

from .shown import Shown
from .uplift import Uplift

ADD_FLOATS = gettext_lazy("add floats")
LENGTHEN_HEADROPE = gettext_lazy("lengthen headrope")
ADD_DROPPERS = gettext_lazy("add droppers")
LENGTHEN_FOOTROPE = gettext_lazy("lengthen footrope")
EVEN_UP = gettext_lazy("even up a side")
MEASURE = gettext_lazy("measure both sides")
LOOK = gettext_lazy("look first")

_HEADROPE_LEFT_OUT = gettext_lazy(
    "This counts the added floats only, not what a longer headrope does to the net's mouth."
)
_FOOTROPE_LEFT_OUT = gettext_lazy(
    "This counts the added weight only, not how much deeper a slacker footrope hangs."
)
_ONE_SIDE = gettext_lazy("If both sides measure the same: ")

_MOST_FLOATS = 10
_MOST_DROPPERS = 12
_MOST_ON_A_SIDE = 4
_STEP = 2 * FOOT  # of footrope, a foot at each wing


@dataclass(frozen=True, slots=True)
class Proposal:
    """
    A change in words, the rig after it, and its Uplift on ``side`` (None: both).

    ``left_out`` says in a sentence what of this change the effect does not count.
    """

    kind: str
    text: str
    pieces: int
    rig: Rig
    effect: Uplift | None
    side: str | None = None
    left_out: str = ""


def lift(rig: Rig) -> float:
    """Return the newtons by which the measured floats of ``rig`` lift in sea water."""
    kilograms = sum(float_lift(each.diameter).likely for each in rig.floats or () if each.diameter)
    return kilograms * chain.GRAVITY


def _plural(count: int, word: str) -> str:
    return ngettext(
        "{count} more {word}",
        "{count} more {word}s",
        count,
    ).format(count=count, word=word)


def _by_floats(rig: Rig, shown: Shown, changed: Rig, side: str | None = None) -> Uplift | None:
    """Return what the floats of the ``changed`` rig do."""
    return shown.effect(rig, changed, side, lift=lift(changed) - lift(rig))


def add_floats(rig: Rig, shown: Shown) -> Iterator[Proposal]:
    """Yield proposals of ever more floats over the whole headrope."""
    size = commonest(each.diameter for each in rig.floats or ())
    if size is None:
        return
    for extra in range(1, _MOST_FLOATS + 1):
        changed = more_floats(rig, extra)
        text = _("Add {plural} of {inches} and space all {len} evenly").format(
            plural=_plural(extra, "float"), inches=inches(size), len=len(changed.floats or ())
        )
        yield Proposal(ADD_FLOATS, text, extra, changed, _by_floats(rig, shown, changed))


def lengthen_headrope(rig: Rig, shown: Shown) -> Iterator[Proposal]:
    """
    Yield proposals of an ever longer headrope with floats at the spacing it has now.

    Only the added floats count in the effect: what a longer headrope does to the mouth
    is not worked out.
    """
    floats = len(rig.floats or ())
    if floats < 2 or rig.headrope.length is None:
        return
    spacing = rig.headrope.length / (floats - 1)
    for extra in range(1, _MOST_FLOATS + 1):
        changed = longer_headrope(rig, extra * spacing, extra)
        text = _("Lengthen the headrope by {feet_inches} and put {plural} on it").format(
            feet_inches=feet_inches(extra * spacing, 1), plural=_plural(extra, "float")
        )
        yield Proposal(
            LENGTHEN_HEADROPE,
            text,
            2 * extra,
            changed,
            _by_floats(rig, shown, changed),
            left_out=_HEADROPE_LEFT_OUT,
        )


def add_droppers(rig: Rig, shown: Shown) -> Iterator[Proposal]:
    """Yield proposals of ever more droppers, in pairs, in the widest gaps."""
    for extra in range(2, _MOST_DROPPERS + 1, 2):
        changed = more_droppers(rig, extra)
        yield Proposal(
            ADD_DROPPERS,
            _("Hang {plural} in the widest gaps, as many to port as to starboard").format(
                plural=_plural(extra, "dropper")
            ),
            extra,
            changed,
            shown.effect(rig, changed),
        )


def lengthen_footrope(rig: Rig, shown: Shown, rulebook: Rulebook) -> Iterator[Proposal]:
    """
    Yield proposals of an ever longer footrope, half at each wing, up to the rules' bound.

    The weight of the rope and of the droppers it then needs counts in the effect; how
    much deeper a slacker footrope sags is not worked out.
    """
    if rig.headrope.length is None:
        return
    most = rulebook.requirement("footrope_excess").limit
    room = most - (rig.footrope.length - rig.headrope.length)
    for step in range(1, int(room / _STEP + 1e-9) + 1):
        extra = step * _STEP
        changed = longer_footrope(rig, extra, rulebook)
        rope = wire_mass_per_metre(ROPE_SIZE) * extra * chain.KEPT_IN_SEA_WATER
        new = len(changed.droppers or ()) - len(rig.droppers or ())
        hang = _(" and hang {plural} on it").format(plural=_plural(new, "dropper")) if new else ""
        yield Proposal(
            LENGTHEN_FOOTROPE,
            _("Lengthen the footrope by {feet_inches}, half at each wing{hang}").format(
                feet_inches=feet_inches(extra), hang=hang
            ),
            2 * step + new,
            changed,
            shown.effect(rig, changed, pull=-rope * chain.GRAVITY),
            left_out=_FOOTROPE_LEFT_OUT,
        )


def lift_side(rig: Rig, shown: Shown, side: str) -> Iterator[Proposal]:
    """Yield proposals of floats on the headrope's low ``side``."""
    for extra in range(1, _MOST_ON_A_SIDE + 1):
        changed = more_floats(rig, extra, side)
        text = _("{ONE_SIDE}add {plural} on the {side} side of the headrope").format(
            ONE_SIDE=_ONE_SIDE, plural=_plural(extra, "float"), side=side
        )
        found = _by_floats(rig, shown, changed, side)
        yield Proposal(EVEN_UP, text, extra, changed, found, side)


def hold_side(rig: Rig, shown: Shown, side: str) -> Iterator[Proposal]:
    """Yield proposals of droppers on the footrope's high ``side``."""
    for extra in range(1, _MOST_ON_A_SIDE + 1):
        changed = more_droppers(rig, extra, side)
        text = _("{ONE_SIDE}hang {plural} on the {side} side, in the widest gaps").format(
            ONE_SIDE=_ONE_SIDE, plural=_plural(extra, "dropper"), side=side
        )
        yield Proposal(EVEN_UP, text, extra, changed, shown.effect(rig, changed, side), side)
