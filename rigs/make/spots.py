"""
One reading of a rig put near its limit, met or broken, and all else left as it is.

On either side of the limit the same part is changed in the same way, away from its
neighbors and toward the limit: how far is all that tells. So whoever only looks for the
odd part finds as many sound ones as broken ones. Begin with ``clearance.roomy_rig``, whose
own measures say nothing of where the limits are.
"""

from collections.abc import Callable
from dataclasses import replace
from itertools import accumulate
from math import copysign
from typing import NamedTuple

from rigs.requirements import layout
from rigs.rules.judge import judge
from rigs.words.gear import PORT, SIDES, STARBOARD, Float
from rigs.words.units import FATHOM, FOOT, INCH, ROUNDING

from . import faults, near
from .clearance import even_floats
from .faults import CannotSpoil

_TRIES = 12

# Of these just one at a time: they are two limits of the same reading.
ONE_OF = (("footrope_longer", "footrope_excess"), ("mesh_count_long", "mesh_count_short"))


def distance(rng, requirement, broken, level, room=0.0):
    """
    Return how far a reading of ``requirement`` is to lie off its limit, SI, at ``level``.

    As ``requirements.spans`` has it, and at least ``room``: as far as whoever looks can tell.
    """
    if requirement.limit == 0 and requirement.test == "at most":
        off = requirement.measure.scale.distance(rng, level)
    else:
        off = abs(
            requirement.measure.scale.reading(rng, requirement, broken, level) - requirement.limit
        )
    return off if off >= room else off + room


def measured(rulebook, rig=None):
    """Return the keys of those requirements of which a reading can be put near the limit."""
    return tuple(
        each.key
        for each in rulebook.requirements
        if each.key in _PUT and each.binds and (rig is None or each.applies_to(rig, None))
    )


def seen(rulebook, rig=None):
    """Return the keys of those that are merely looked at: so, or not so."""
    return tuple(
        key
        for key in faults.spoilable(rulebook, rig)
        if rulebook.requirement(key).measure.dimension == "flag" and key not in _PUT
    )


def put(rig, key, broken, rng, rulebook, level=1, *, room=0.0, side=None, suits=None):
    """
    Return ``rig`` with its reading of ``key`` near the limit, ``broken`` or met.

    The outcome of every other requirement stays. ``level`` says how near, ``room`` the
    least distance in metres; ``side`` is the one to change, where there are two, and then the
    other stays as it is. ``suits``
    is asked of each rig that would do, and may turn it down. A rule that is merely looked at is
    broken as ``faults`` does it, and met as it is. Raise CannotSpoil if it cannot be had.
    """
    if key not in _PUT:
        return faults.spoil(rig, key, rng, rulebook, level, suits) if broken else rig
    before = judge(rig, rulebook).missed_keys
    requirement = rulebook.requirement(key)
    if key in before or not requirement.applies_to(rig, None):
        raise CannotSpoil(key)
    for _ in range(_TRIES):
        off = distance(rng, requirement, broken, level, room)
        spot = _Spot(rig, requirement, rulebook, rng, broken, off, side)
        try:
            made = _PUT[key](spot)
        except (ValueError, IndexError) as error:
            raise CannotSpoil(key) from error
        added = judge(made, rulebook).missed_keys ^ before
        is_so = added - near.follows(key) == {key} if broken else not added
        if is_so and (suits is None or suits(made)):
            return made
    raise CannotSpoil(key)


def put_many(rig, sides, rng, rulebook, level=1, *, room=None, suits=None):
    """
    Return ``rig`` with a reading put near the limit for every key of ``sides``.

    ``sides`` maps keys to whether they are to be broken, ``room`` keys to metres. Raise
    CannotSpoil if they cannot be had together.
    """
    for key in sorted(sides, key=_order):
        least = (room or {}).get(key, 0.0)
        rig = put(rig, key, sides[key], rng, rulebook, level, room=least, suits=suits)
    return rig


def readings(rig, keys, rulebook):
    """Return what is read of each of ``keys`` that binds ``rig``: the reading nearest its limit."""
    findings = judge(rig, rulebook).findings
    return {each.key: each.measured for each in findings if each.key in keys}


def _order(key):
    """Ropes come before what is hung on them anew, and lengths before what adds them up."""
    return list(_PUT).index(key) if key in _PUT else len(_PUT)


class _Spot(NamedTuple):
    """A rig to change and what to change on it; ``off`` is how far off the limit, SI."""

    rig: object
    requirement: object
    rulebook: object
    rng: object
    is_broken: bool
    off: float
    side: str | None

    @property
    def most(self):
        """The reading wanted, of what has an upper limit."""
        return self.requirement.limit + (self.off if self.is_broken else -self.off)

    @property
    def least(self):
        """The reading wanted, of what has a lower limit."""
        return self.requirement.limit + (-self.off if self.is_broken else self.off)

    @property
    def inside(self):
        """A reading as far inside an upper limit, whichever side is wanted."""
        return self.requirement.limit - self.off

    def either_side(self):
        return self.side or self.rng.choice(SIDES)

    def swapped(self, part, index, **changes):
        """Return the rig with ``changes`` made to one of its parts."""
        parts = getattr(self.rig, part)
        changed = replace(parts[index], **changes)
        return self.rig.with_(**{part: (*parts[:index], changed, *parts[index + 1 :])})

    def farthest(self, part, field):
        """Return the rig with ``field`` of one of its parts as is wanted, none nearer the limit."""
        parts = getattr(self.rig, part)
        at_least = self.requirement.test == "at least"
        wanted, better = (self.least, max) if at_least else (self.most, min)
        if not self.is_broken:
            parts = tuple(
                replace(each, **{field: better(getattr(each, field), wanted)}) for each in parts
            )
        index = self.rng.randrange(len(parts))
        changed = replace(parts[index], **{field: wanted})
        return self.rig.with_(**{part: (*parts[:index], changed, *parts[index + 1 :])})


_SHORTEST = 12 * FOOT  # a headrope shorter than that is on no trawl (common practice, no source)


def _headrope(spot):
    """Make the headrope so long, and set its floats anew as evenly as they were."""
    rig = spot.rig
    excess = spot.most if spot.requirement.test == "at most" else spot.least
    head = replace(rig.headrope, length=rig.footrope.length - excess)
    if head.length < _SHORTEST:
        raise CannotSpoil
    floats = even_floats(head, spot.rng, spot.rulebook, rig.floats[0].diameter)
    return replace(rig, headrope=head, floats=floats)


_CLOSEST = 28 * INCH  # from float to float: closer, a headrope would be all floats


def _float_gap(spot):
    """Set the floats anew, all gaps alike but one, the widest."""
    length, size = spot.rig.headrope.length, spot.rig.floats[0].diameter
    wide, usual = (max(gap, _CLOSEST) for gap in (spot.most, spot.inside))
    rest = length - wide
    count = int(rest / (usual - spot.rng.randint(3, 8) * INCH)) + 1
    gaps = [rest / count] * count
    gaps.insert(spot.rng.randrange(1, count), wide)
    places = accumulate(gaps, initial=-length / 2)
    return replace(spot.rig, floats=tuple(Float(place, size) for place in places))


def _float(spot):
    return spot.farthest("floats", "diameter")


_SIGNS = {PORT: -1, STARBOARD: 1}


def _wing_gap(spot):
    """Hang the droppers of both wings anew, all gaps alike but one, the widest."""
    rig, rng, wide = spot.rig, spot.rng, spot.either_side()
    rope = rig.footrope
    if spot.most > rope.wing(wide):
        raise CannotSpoil
    template = min(rig.droppers, key=lambda each: abs(each.position - rope.corner(wide)))
    anew = {side: sign for side, sign in _SIGNS.items() if spot.side in (None, side)}
    hung = [
        each
        for each in rig.droppers
        if _on_bosom(each, rope) or (PORT if each.position < 0 else STARBOARD) not in anew
    ]
    for side, sign in anew.items():
        usual = spot.inside - rng.randint(3, 12) * INCH
        corner, wing = rope.corner(side), rope.wing(side)
        if side == wide:
            outs = _with_one_wide(wing, usual, spot.most, rng)
        else:
            outs = layout.wing_positions(wing, usual)
        hung += [_hung(template, corner + sign * out) for out in outs if out > INCH]
    return replace(rig, droppers=_in_order(hung))


def _with_one_wide(wing, usual, wide, rng):
    """Return how far from the corner droppers hang with gaps of ``usual`` and one ``wide``."""
    fits = int((wing - wide) / usual + ROUNDING)
    if rng.random() < _AT_END:
        # The gap that is left at the wing end: a whole step is too much already there.
        gaps = [wing - wide - fits * usual, *[usual] * fits]
    else:
        gaps = [usual] * fits
        gaps.insert(rng.randint(0, fits), wide)
    return list(accumulate(gaps))


_AT_END = 0.3


def _on_bosom(dropper, rope):
    return abs(dropper.position) <= rope.bosom / 2 + ROUNDING


def _hung(dropper, position):
    """Return a dropper made like ``dropper`` that hangs straight down at ``position``."""
    met = None if dropper.sweep_position is None else position
    return replace(dropper, position=position, sweep_position=met)


def _in_order(droppers):
    return tuple(sorted(droppers, key=lambda each: each.position))


def _at_mark(mark):
    """Return what moves the dropper at a mark off it, or hangs another as far beside it."""

    def change(spot):
        at, inward = mark(spot)
        index = min(
            range(len(spot.rig.droppers)), key=lambda i: abs(spot.rig.droppers[i].position - at)
        )
        each = spot.rig.droppers[index]
        beside = _hung(each, at + inward * spot.off)
        kept = list(spot.rig.droppers)
        if spot.is_broken:
            del kept[index]
        return replace(spot.rig, droppers=_in_order([*kept, beside]))

    return change


def _center(spot):
    return 0.0, spot.rng.choice([-1, 1])


def _corner(spot):
    corner = spot.rig.footrope.corner(spot.either_side())
    return corner, 1 if corner < 0 else -1


def _leaning(spot):
    """Let one dropper lean, or hang one more, straight down, beside another of the bosom."""
    hung = spot.rig.droppers
    if spot.is_broken:
        index = spot.rng.randrange(1, len(hung) - 1)
        aside = spot.rng.choice([-1, 1]) * spot.off
        return spot.swapped("droppers", index, sweep_position=hung[index].position + aside)
    # On a wing it would part a gap that is to stay as it is.
    each = spot.rng.choice([each for each in hung if _on_bosom(each, spot.rig.footrope)])
    inward = spot.rng.choice([-1, 1]) if abs(each.position) < INCH else -each.position
    more = _hung(each, each.position + copysign(spot.off, inward))
    return replace(spot.rig, droppers=_in_order([*hung, more]))


def _sweep_side(spot):
    """Make one half of the sweep so long; the other has slack enough for both."""
    side = spot.either_side()
    length = abs(spot.rig.footrope.end(side)) + spot.least
    return replace(spot.rig, sweep=replace(spot.rig.sweep, **{side: length}))


def _legs(spot):
    """Shorten one leg of a side, or both legs alike."""
    rig = spot.rig
    index = spot.rng.randrange(len(rig.legs))
    leg, less = rig.legs[index], spot.off
    names = ["top_length", "bottom_length"]
    if spot.is_broken:
        names = [spot.rng.choice(names)]
    return spot.swapped("legs", index, **{name: getattr(leg, name) - less for name in names})


def _cable(spot):
    """Make one ground cable so long that it and the longer leg come to what is wanted."""
    rig, longest = spot.rig, spot.rng.choice(spot.rig.ground_cables)
    cables = []
    for cable in rig.ground_cables:
        leg = next(each for each in rig.legs if each.side == cable.side)
        shorter = spot.inside - spot.rng.randint(1, 6) * FATHOM / 2
        whole = spot.most if cable is longest else shorter
        cables.append(replace(cable, length=whole - max(leg.top_length, leg.bottom_length)))
    return replace(rig, ground_cables=tuple(cables))


def _thick(part, field):
    def change(spot):
        return spot.farthest(part, field)

    return change


def _dropper_length(spot):
    return spot.farthest("droppers", "length")


def _sweep_chain(spot):
    return replace(spot.rig, sweep=replace(spot.rig.sweep, diameter=spot.most))


def _mesh(spot):
    return replace(spot.rig, codend=replace(spot.rig.codend, mesh=spot.least))


def _count(spot):
    return replace(spot.rig, codend=replace(spot.rig.codend, counted=round(spot.least)))


def _bars(spot):
    return replace(spot.rig, grate=replace(spot.rig.grate, bar_gap=spot.most))


def _outlet(spot):
    grate = spot.rig.grate
    return replace(spot.rig, grate=replace(grate, outlet_width=grate.width + spot.least))


# In the order in which several are put on one rig.
_PUT: dict[str, Callable] = {
    "footrope_longer": _headrope,
    "footrope_excess": _headrope,
    "float_spacing": _float_gap,
    "dropper_spacing": _wing_gap,
    "dropper_at_corners": _at_mark(_corner),
    "dropper_at_centre": _at_mark(_center),
    "float_diameter": _float,
    "dropper_stock": _thick("droppers", "diameter"),
    "dropper_length": _dropper_length,
    "sweep_excess_each_side": _sweep_side,
    "sweep_stock": _sweep_chain,
    "sweep_attachment": _leaning,
    "legs_equal": _legs,
    "door_to_wing_end": _cable,
    "top_leg_wire": _thick("legs", "top_diameter"),
    "bottom_leg_wire": _thick("legs", "bottom_diameter"),
    "ground_cable_wire": _thick("ground_cables", "diameter"),
    "mesh_size": _mesh,
    "mesh_count_long": _count,
    "mesh_count_short": _count,
    "grate_bar_gap": _bars,
    "grate_outlet": _outlet,
}
