"""
Whether the floats carry what hangs from the net.

Lift and weight are those of ``balance``, at rest in sea water. How much of the legs hangs
on a net nobody has published: the least is none of it, the most the half that ``balance``
takes. How the stream lifts or presses the net under tow is not counted.
"""

from dataclasses import dataclass
from math import ceil
from typing import ClassVar

from rigs.physics.balance import Range, balance, float_lift
from rigs.words.gear import Rig
from rigs.words.say import gettext as _
from rigs.words.say import gettext_lazy
from rigs.words.units import ROUNDING, inches, pounds

CARRIED, TOO_HEAVY, UNSURE = "carried", gettext_lazy("too heavy"), "unsure"

BASIS = gettext_lazy(
    "Lift from float tables, from memory. Weight from link and rope sizes. At rest: what the "
    "stream does under tow is not counted, and the netting weighs next to nothing in water. "
    "None to half of the legs is counted as hanging on the net: an assumption, no source."
)
THUMB = gettext_lazy(
    "Rule of thumb (common practice, no source): if the shine shows that the net flies too "
    "low, add floats."
)


@dataclass(frozen=True, slots=True)
class Carry:
    """
    What lifts against what hangs, as Ranges of kilograms in sea water.

    ``missing`` are the parts that could not be weighed since they were not entered, and
    ``float_size`` is the diameter in metres of the floats to add.
    """

    lift: Range
    weight: Range
    missing: tuple[str, ...]
    float_size: float

    basis: ClassVar[str] = BASIS
    thumb: ClassVar[str] = THUMB

    @property
    def knows_lift(self) -> bool:
        """Whether every float was entered, with its size."""
        return "floats" not in self.missing

    @property
    def answer(self) -> str:
        """``CARRIED``, ``TOO_HEAVY`` or, where both can be, ``UNSURE``."""
        if not self.knows_lift:
            return UNSURE
        if self.lift.most < self.weight.least - ROUNDING:
            return TOO_HEAVY
        if not self.missing and self.lift.least >= self.weight.most - ROUNDING:
            return CARRIED
        return UNSURE

    @property
    def least_to_add(self) -> int:
        """The floats to add without which it surely is not carried."""
        short = self.weight.least - self.lift.most
        return max(0, ceil(short / float_lift(self.float_size).most - ROUNDING))

    @property
    def most_to_add(self) -> int:
        """The floats to add with which it surely is, as far as its weight is known."""
        short = self.weight.most - self.lift.least
        return max(0, ceil(short / float_lift(self.float_size).least - ROUNDING))

    @property
    def in_short(self) -> str:
        """The answer in a word or two, for a heading that asks it."""
        if self.answer == CARRIED:
            return _("Yes.")
        if self.answer == TOO_HEAVY:
            return _("No. Add {range}.").format(range=_range(self))
        return _("Not sure.")

    @property
    def text(self) -> str:
        """The answer in words."""
        return " ".join(filter(None, (self._told(), self._missing())))

    def _told(self) -> str:
        weight = _("what hangs weighs {between} in sea water").format(between=_between(self.weight))
        size = _("{inches} across").format(inches=inches(self.float_size))
        if not self.knows_lift:
            return _(
                "Not known whether the floats carry what hangs, since not all were entered. "
                "{upper}{weight}. That takes {range} {size}."
            ).format(upper=weight[0].upper(), weight=weight[1:], range=_range(self), size=size)
        sums = _("They lift {between}, and {weight}.").format(
            between=_between(self.lift), weight=weight
        )
        if self.answer == CARRIED:
            return _("The floats carry what hangs. {sums}").format(sums=sums)
        if self.answer == TOO_HEAVY:
            return _("The floats do not carry what hangs. {sums} Add {range} {size}.").format(
                sums=sums, range=_range(self), size=size
            )
        if not self.most_to_add:
            return _("The floats carry what was entered. {sums}").format(sums=sums)
        return _(
            "The floats might not carry what hangs. {sums} Tow first: the shine shows if "
            "more are needed. With {floats} more, {size}, they surely carry it."
        ).format(sums=sums, floats=_floats(self.most_to_add), size=size)

    def _missing(self) -> str:
        parts = dict.fromkeys(
            "legs" if part.endswith("leg") else part for part in self.missing if part != "floats"
        )
        return (
            _("Left out, since not known: {parts}.").format(parts=", ".join(parts)) if parts else ""
        )


def _between(kilograms: Range) -> str:
    least, most = pounds(kilograms.least, 0), pounds(kilograms.most, 0)
    return most if least == most else f"{least.removesuffix(' lb')} to {most}"


def _range(carry: Carry) -> str:
    """Return how many floats to add: ``3 floats``, or ``3 to 11 floats``."""
    least, most = carry.least_to_add, carry.most_to_add
    return _floats(most) if least == most else f"{least} to {_floats(most)}"


def _floats(count: int) -> str:
    return _("{count} float{value}").format(count=count, value="s" * (count != 1))


def carry(rig: Rig, float_size: float) -> Carry:
    """Return the Carry of ``rig``; floats to add are ``float_size`` metres across."""
    table = balance(rig)
    missing = tuple(dict.fromkeys(e.part for e in table.entries if e.kilograms is None))
    legs = sum(
        entry.kilograms.likely
        for entry in table.entries
        if entry.part.endswith("leg") and entry.kilograms is not None
    )
    lift, weight = table.lift, table.weight
    return Carry(
        Range(0.0, 0.0, 0.0) if "floats" in missing else lift,
        Range(weight.least - legs, weight.likely, weight.most),
        missing,
        float_size,
    )
