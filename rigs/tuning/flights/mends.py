"""
Changes that may mend a net, each with its amount, its words and which way the trade has it work.

A Mend is kept in the table by its name alone, such as ``floats +4 port``, and makes the same
rig of the same net each time. None asks whether it helps or is allowed.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import NamedTuple

from rigs.make import changes
from rigs.words.gear import PORT, STARBOARD, Dropper, Float, Leg, Rig
from rigs.words.say import gettext as _
from rigs.words.say import gettext_lazy, ngettext
from rigs.words.units import INCH, ROUNDING, feet_inches, inches

UP, DOWN = 1, -1


@dataclass(frozen=True, slots=True)
class Mend:
    """
    A change of one ``sort`` by ``amount``, pieces or inches, on ``side`` (None: all over).

    Raise KeyError, on use, for a sort that nobody makes.
    """

    sort: str
    amount: float = 0
    side: str | None = None

    @property
    def key(self) -> str:
        """Its name in the table, of which ``named`` makes it again."""
        return " ".join(filter(None, (self.sort, f"{self.amount:+g}", self.side)))

    def on(self, rig: Rig) -> Rig:
        """Return ``rig`` changed so; raise ValueError where a part was not measured."""
        return _SORTS[self.sort].make(rig, self)

    def words(self, rig: Rig) -> str:
        """Return what to do to ``rig``, as an order."""
        return _SORTS[self.sort].words(rig, self)

    @property
    def thumb(self) -> int:
        """UP or DOWN where the trade has it lift or lower the footrope; 0 where it says nothing."""
        sort = _SORTS[self.sort]
        if sort.counted and not self.amount:
            return 0
        return -sort.thumb if self.amount < 0 else sort.thumb


def named(key: str) -> Mend:
    """Return the Mend of the name ``key``."""
    sort, amount, *side = key.split()
    return Mend(sort, float(amount), side[0] if side else None)


# What is made of a rig --------------------------------------------------------------------------


def _floats(rig: Rig, mend: Mend) -> Rig:
    count = int(mend.amount)
    if count < 0:
        return changes.fewer_floats(rig, -count)
    return changes.more_floats(rig, count, mend.side)


def _shifted(rig: Rig, mend: Mend) -> Rig:
    """Move floats over to a side, and space those of each half evenly; a center float stays."""
    hung, length = rig.floats or (), rig.headrope.length
    if length is None or not hung:
        raise ValueError(_("The floats or the headrope were not measured."))
    at_center = any(abs(each.position) <= ROUNDING for each in hung)
    count, places = int(mend.amount), [0.0] if at_center else []
    for side, sign in ((PORT, -1), (STARBOARD, 1)):
        here = sum(each.position * sign > ROUNDING for each in hung)
        here += count if side == mend.side else -count
        if here < 1:
            raise ValueError(_("A side has only so many floats."))
        # Without a float at the center, the two next to it are a gap apart.
        first = 1.0 if at_center else 0.5
        gaps = here - 1 + first
        places += [sign * length / 2 * (i + first) / gaps for i in range(here)]
    size = changes.commonest(each.diameter for each in hung)
    return rig.with_(floats=tuple(Float(place, size) for place in sorted(places)))


def _headrope(rig: Rig, mend: Mend) -> Rig:
    return changes.longer_headrope(rig, mend.amount * INCH, 0)


def _footrope(rig: Rig, mend: Mend) -> Rig:
    more = mend.amount * INCH / 2
    rope = rig.footrope
    return rig.with_(
        footrope=replace(
            rope, port_wing=rope.port_wing + more, starboard_wing=rope.starboard_wing + more
        )
    )


def _every_dropper(rig: Rig, change: Callable[[Dropper], Dropper]) -> Rig:
    return rig.with_(droppers=tuple(change(each) for each in rig.droppers or ()))


def _chain(rig: Rig, mend: Mend) -> Rig:
    return _every_dropper(rig, lambda each: replace(each, diameter=mend.amount * INCH))


def _doubled(rig: Rig, mend: Mend) -> Rig:
    return _every_dropper(rig, lambda each: replace(each, count=2))


def _dropper_length(rig: Rig, mend: Mend) -> Rig:
    length = changes.commonest(each.length for each in rig.droppers or ())
    if length is None:
        raise ValueError(_("The droppers were not measured."))
    return _every_dropper(rig, lambda each: replace(each, length=length + mend.amount * INCH))


def _longer(which: str) -> Callable[[Rig, Mend], Rig]:
    return lambda rig, mend: changes.longer_leg(rig, mend.side, which, mend.amount * INCH)


def _equal(rig: Rig, mend: Mend) -> Rig:
    def cut(leg: Leg) -> Leg:
        known = [each for each in (leg.top_length, leg.bottom_length) if each is not None]
        return replace(leg, top_length=min(known), bottom_length=min(known))

    legs = (cut(leg) if mend.side in (None, leg.side) else leg for leg in rig.legs)
    return rig.with_(legs=tuple(legs))


# And how it is said -----------------------------------------------------------------------------


def _say_floats(rig: Rig, mend: Mend) -> str:
    count, there = int(abs(mend.amount)), len(rig.floats or ())
    if mend.side is not None:
        return ngettext(
            "Add {count} float on the {side} side of the headrope",
            "Add {count} floats on the {side} side of the headrope",
            count,
        ).format(count=count, side=mend.side)
    if not count:
        return _("Space all {there} floats evenly").format(there=there)
    if mend.amount > 0:
        return ngettext(
            "Add {count} float, and space all {after} evenly",
            "Add {count} floats, and space all {after} evenly",
            count,
        ).format(count=count, after=there + count)
    return ngettext(
        "Take off {count} float, and space the other {after} evenly",
        "Take off {count} floats, and space the other {after} evenly",
        count,
    ).format(count=count, after=there - count)


def _say_shifted(rig: Rig, mend: Mend) -> str:
    count = int(mend.amount)
    return ngettext(
        "Move {count} float to the {side} side, and space each side evenly",
        "Move {count} floats to the {side} side, and space each side evenly",
        count,
    ).format(count=count, side=mend.side)


def _say_droppers(rig: Rig, mend: Mend) -> str:
    count = int(mend.amount)
    if mend.side is None:
        return _("Hang {count} more droppers, half of them on each side").format(count=count)
    return ngettext(
        "Hang {count} more dropper on the {side} side",
        "Hang {count} more droppers on the {side} side",
        count,
    ).format(count=count, side=mend.side)


def _say_headrope(rig: Rig, mend: Mend) -> str:
    return _("Lengthen the headrope by {length}, and space the floats evenly").format(
        length=feet_inches(mend.amount * INCH)
    )


def _say_footrope(rig: Rig, mend: Mend) -> str:
    return _("Lengthen the footrope by {length}, half at each wing").format(
        length=feet_inches(mend.amount * INCH)
    )


def _say_chain(rig: Rig, mend: Mend) -> str:
    return _("Hang {size} chain for every dropper, of the same length").format(
        size=inches(mend.amount * INCH)
    )


def _say_doubled(rig: Rig, mend: Mend) -> str:
    return _("Double every dropper: two chains side by side")


def _say_length(rig: Rig, mend: Mend) -> str:
    size = inches(abs(mend.amount) * INCH)
    if mend.amount < 0:
        return _("Cut {size} off every dropper").format(size=size)
    return _("Hang every dropper {size} longer").format(size=size)


def _say_leg(whole: str, one: str) -> Callable[[Rig, Mend], str]:
    def words(rig: Rig, mend: Mend) -> str:
        size = inches(mend.amount * INCH)
        return (whole if mend.side is None else one).format(size=size, side=mend.side)

    return words


def _say_equal(rig: Rig, mend: Mend) -> str:
    return _("Cut the longer leg on the {side} side to the length of the other").format(
        side=mend.side
    )


class _Sort(NamedTuple):
    """How a sort is made and said, which way more of it works by the trade, if it is counted."""

    make: Callable[[Rig, Mend], Rig]
    words: Callable[[Rig, Mend], str]
    thumb: int = 0
    counted: bool = True


_SORTS: Mapping[str, _Sort] = {
    "floats": _Sort(_floats, _say_floats, UP),
    "shift": _Sort(_shifted, _say_shifted),
    "droppers": _Sort(
        lambda rig, mend: changes.more_droppers(rig, int(mend.amount), mend.side),
        _say_droppers,
        DOWN,
    ),
    "headrope": _Sort(_headrope, _say_headrope, UP),
    "footrope": _Sort(_footrope, _say_footrope, DOWN),
    "chain": _Sort(_chain, _say_chain),
    "doubled": _Sort(_doubled, _say_doubled, DOWN, counted=False),
    "dropper": _Sort(_dropper_length, _say_length),
    "top-leg": _Sort(
        _longer(changes.TOP),
        _say_leg(
            gettext_lazy("Lengthen both top legs by {size}"),
            gettext_lazy("Lengthen the top leg on the {side} side by {size}"),
        ),
    ),
    "bottom-leg": _Sort(
        _longer(changes.BOTTOM),
        _say_leg(
            gettext_lazy("Lengthen both bottom legs by {size}"),
            gettext_lazy("Lengthen the bottom leg on the {side} side by {size}"),
        ),
    ),
    "equal-legs": _Sort(_equal, _say_equal),
}
