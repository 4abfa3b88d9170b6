"""A change to a rig that somebody wants to see in flight before anything is cut."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from rigs.make.changes import (
    BOTTOM,
    TOP,
    fewer_floats,
    floats_at,
    longer_leg,
    more_droppers,
    more_floats,
    over_footrope,
)
from rigs.physics.flight import POINTS
from rigs.words.gear import SIDES, Headrope, Rig
from rigs.words.say import gettext as _
from rigs.words.say import ngettext
from rigs.words.units import feet_inches, inches

_NONE_PUT_ON = (0,) * len(POINTS)


@dataclass(frozen=True, slots=True)
class Alteration:
    """
    What is changed; lengths in metres, below nothing for shorter.

    ``floats`` and ``droppers`` are how many more (floats: or fewer), ``chain`` the nominal size
    that every dropper is then made of, None as it is. ``put_on`` are floats more by where they go:
    over each of flight's POINTS, beside what is there, while ``floats`` are spaced over the whole
    headrope. ``headrope`` and ``footrope`` are bare rope
    at the wing ends, half at each: the netting stays as it is. ``legs`` are by side and TOP or
    BOTTOM. ``cut_sweep`` takes the sweep off.
    """

    floats: int = 0
    droppers: int = 0
    chain: float | None = None
    headrope: float = 0.0
    footrope: float = 0.0
    legs: tuple[tuple[str, str, float], ...] = ()
    cut_sweep: bool = False
    put_on: tuple[int, ...] = _NONE_PUT_ON

    @property
    def is_none(self) -> bool:
        """Whether nothing is changed."""
        return self == Alteration()

    def of(self, rig: Rig) -> Rig:
        """
        Return ``rig`` so changed.

        Raise ValueError, in words, for what cannot be done to it.
        """
        if self.cut_sweep:
            hung = rig.droppers
            if hung is not None:
                hung = tuple(replace(each, sweep_position=None) for each in hung)
            rig = rig.with_(sweep=None, droppers=hung)
        if self.headrope:
            rig = _longer_headrope(rig, self.headrope)
        if self.footrope:
            rope = rig.footrope
            half = self.footrope / 2
            if min(rope.port_wing, rope.starboard_wing) + half < 0:
                raise ValueError(_("The footrope's wings are not as long as that."))
            rig = rig.with_(
                footrope=replace(
                    rope, port_wing=rope.port_wing + half, starboard_wing=rope.starboard_wing + half
                )
            )
        if self.floats > 0:
            rig = more_floats(rig, self.floats)
        elif self.floats < 0:
            rig = fewer_floats(rig, -self.floats)
        if any(self.put_on):
            for place, count in zip(over_footrope(rig), self.put_on, strict=True):
                rig = floats_at(rig, place, count) if count else rig
        if self.droppers:
            rig = more_droppers(rig, self.droppers)
        if self.chain is not None:
            if not rig.droppers:
                raise ValueError(_("The droppers were not measured."))
            rig = rig.with_(
                droppers=tuple(replace(each, diameter=self.chain) for each in rig.droppers)
            )
        for side, which, longer in self.legs:
            rig = longer_leg(rig, side, which, longer)
        return rig

    def words(self) -> Iterator[str]:
        """Yield what is changed, a phrase each."""
        if self.cut_sweep:
            yield _("cut the sweep")
        if self.floats:
            text = (
                ngettext("{count} float more", "{count} floats more", self.floats)
                if self.floats > 0
                else ngettext("{count} float fewer", "{count} floats fewer", -self.floats)
            )
            yield text.format(count=abs(self.floats))
        for name, count in zip(POINTS, self.put_on, strict=True):
            if count:
                yield ngettext(
                    "{count} float more over the {place}",
                    "{count} floats more over the {place}",
                    count,
                ).format(count=count, place=name)
        if self.droppers:
            yield ngettext("{count} dropper more", "{count} droppers more", self.droppers).format(
                count=self.droppers
            )
        if self.chain is not None:
            yield _("droppers of {size} chain").format(size=inches(self.chain))
        for metres, longer, shorter in (
            (self.headrope, _("headrope {length} longer"), _("headrope {length} shorter")),
            (self.footrope, _("footrope {length} longer"), _("footrope {length} shorter")),
        ):
            if metres:
                yield (longer if metres > 0 else shorter).format(length=feet_inches(abs(metres)))
        for side, which, metres in self.legs:
            text = (
                _("{side} {which} leg {length} longer")
                if metres > 0
                else _("{side} {which} leg {length} shorter")
            )
            yield text.format(side=side, which=which, length=feet_inches(abs(metres)))


def _longer_headrope(rig: Rig, longer: float) -> Rig:
    length = rig.headrope.length
    if length is None:
        raise ValueError(_("The headrope was not measured."))
    if length + longer <= 0:
        raise ValueError(_("The headrope is not as long as that."))
    # Floats stay where they are on the netting; what is added at the ends is bare.
    ends = (length + longer) / 2
    floats = rig.floats
    if floats is not None:
        floats = tuple(
            replace(each, position=max(-ends, min(ends, each.position))) for each in floats
        )
    return rig.with_(headrope=Headrope(length + longer), floats=floats)


LEGS = tuple((side, which) for side in SIDES for which in (TOP, BOTTOM))
"""Each leg as (side, which), port first."""
