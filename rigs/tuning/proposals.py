"""
The changes worth trying on a net, each with what it would do to the height.

Each maker yields Proposals of one kind, from the smallest change up, without asking
whether they help or are legal.
"""

from collections.abc import Callable
from dataclasses import dataclass

from .. import chain
from ..balance import ROPE_SIZE, float_lift, wire_mass_per_metre
from ..changes import commonest, longer_footrope, longer_headrope, more_droppers, more_floats
from ..gear import Rig
from ..units import FOOT, feet_inches, inches
from .uplift import Effect, chains, effect

ADD_FLOATS = "add floats"
LENGTHEN_HEADROPE = "lengthen headrope"
ADD_DROPPERS = "add droppers"
LENGTHEN_FOOTROPE = "lengthen footrope"
EVEN_UP = "even up a side"
MEASURE = "measure both sides"

_MOST_FLOATS = 10
_MOST_DROPPERS = 12
_MOST_ON_A_SIDE = 4
_STEP = 2 * FOOT  # of footrope, a foot at each wing


@dataclass(frozen=True, slots=True)
class Shown:
    """
    What the shine shows now: ``height`` maps a Condition and a side, or None for the
    whole footrope, to metres; ``speed`` is the mean through the water, m/s. ``known``
    says of a side or of None whether the pull of the droppers there can be told: not if
    all of them hung clear or lay flat, or if one was not measured.
    """

    speed: float
    height: Callable
    known: Callable

    def effect(self, before, after, side=None, pull=0.0, lift=0.0):
        """Return the Effect of a change, None where the pull is unknown."""
        if not self.known(side):
            return None
        return effect(
            chains(before, side),
            chains(after, side),
            lambda condition: self.height(condition, side),
            self.speed,
            pull,
            lift,
        )


@dataclass(frozen=True, slots=True)
class Proposal:
    """A change in words, the rig after it, and its Effect on ``side`` (None: both)."""

    kind: str
    text: str
    pieces: int
    rig: Rig
    effect: Effect | None
    side: str | None = None


def _lift(rig):
    """Return the newtons by which the floats of ``rig`` lift in sea water."""
    kilograms = sum(float_lift(each.diameter).likely for each in rig.floats if each.diameter)
    return kilograms * chain.GRAVITY


def _plural(count, word):
    return f"{count} more {word}{'' if count == 1 else 's'}"


def _floats(rig, shown, kind, text, pieces, changed, side=None):
    found = shown.effect(rig, changed, side, lift=_lift(changed) - _lift(rig))
    return Proposal(kind, text, pieces, changed, found, side)


def add_floats(rig, shown):
    """Yield proposals of ever more floats over the whole headrope."""
    size = commonest(each.diameter for each in rig.floats)
    for extra in range(1, _MOST_FLOATS + 1):
        changed = more_floats(rig, extra)
        text = (
            f"Add {_plural(extra, 'float')} of {inches(size)} and space all "
            f"{len(changed.floats)} evenly"
        )
        yield _floats(rig, shown, ADD_FLOATS, text, extra, changed)


def lengthen_headrope(rig, shown):
    """
    Yield proposals of an ever longer headrope with floats at the spacing it has now.

    Only the added floats count in the effect: what a longer headrope does to the mouth
    is not worked out.
    """
    if len(rig.floats) < 2:
        return
    spacing = rig.headrope.length / (len(rig.floats) - 1)
    for extra in range(1, _MOST_FLOATS + 1):
        changed = longer_headrope(rig, extra * spacing, extra)
        text = (
            f"Lengthen the headrope by {feet_inches(extra * spacing, 1)} and put "
            f"{_plural(extra, 'float')} on it"
        )
        yield _floats(rig, shown, LENGTHEN_HEADROPE, text, 2 * extra, changed)


def add_droppers(rig, shown):
    """Yield proposals of ever more droppers, in pairs, in the widest gaps."""
    for extra in range(2, _MOST_DROPPERS + 1, 2):
        changed = more_droppers(rig, extra)
        yield Proposal(
            ADD_DROPPERS,
            f"Hang {_plural(extra, 'dropper')} in the widest gaps, as many to port as to starboard",
            extra,
            changed,
            shown.effect(rig, changed),
        )


def lengthen_footrope(rig, shown, rulebook):
    """
    Yield proposals of an ever longer footrope, half at each wing, up to the rules' bound.

    The weight of the rope and of the droppers it then needs counts in the effect; how
    much deeper a slacker footrope sags is not worked out.
    """
    most = rulebook.requirement("footrope_excess").limit
    room = most - (rig.footrope.length - rig.headrope.length)
    for step in range(1, int(room / _STEP + 1e-9) + 1):
        extra = step * _STEP
        changed = longer_footrope(rig, extra, rulebook)
        rope = wire_mass_per_metre(ROPE_SIZE) * extra * chain.KEPT_IN_SEA_WATER
        new = len(changed.droppers) - len(rig.droppers)
        hang = f" and hang {_plural(new, 'dropper')} on it" if new else ""
        yield Proposal(
            LENGTHEN_FOOTROPE,
            f"Lengthen the footrope by {feet_inches(extra)}, half at each wing{hang}",
            2 * step + new,
            changed,
            shown.effect(rig, changed, pull=-rope * chain.GRAVITY),
        )


def lift_side(rig, shown, side):
    """Yield proposals of floats on the headrope's low ``side``."""
    for extra in range(1, _MOST_ON_A_SIDE + 1):
        changed = more_floats(rig, extra, side)
        text = f"Add {_plural(extra, 'float')} on the {side} side of the headrope"
        yield _floats(rig, shown, EVEN_UP, text, extra, changed, side)


def hold_side(rig, shown, side):
    """Yield proposals of droppers on the footrope's high ``side``."""
    for extra in range(1, _MOST_ON_A_SIDE + 1):
        changed = more_droppers(rig, extra, side)
        text = f"Hang {_plural(extra, 'dropper')} on the {side} side, in the widest gaps"
        yield Proposal(EVEN_UP, text, extra, changed, shown.effect(rig, changed, side), side)
