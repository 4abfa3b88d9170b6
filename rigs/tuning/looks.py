"""
What to look at before anything on a net is changed.

Legs that were entered unequal, a height that changed overnight though the net did not,
a side that flies lower: each has a cause that floats and droppers would only hide.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from statistics import median

from rigs.physics.tow.report import SPEED_SPREAD
from rigs.words.gear import PORT, SIDES, STARBOARD, Rig
from rigs.words.say import gettext as _
from rigs.words.units import INCH, KNOT, fathoms, feet_inches, inches

from .log import TowHeights
from .window import SUDDEN, mean

Run = tuple[TowHeights, ...]
"""Tows of one rig, oldest first."""

_TAPE = INCH  # legs and cables are not measured any finer; no source
MODEL, RULE = "model", "rule"
"""By what a height is told: worked out under tow, or by length minus shine."""

SETTLED = 3
"""After so many tows at a new height it is how the net flies. No source."""


def _apart(one: float, other: float) -> bool:
    return abs(one - other) > _TAPE


def _unequal(words: str, one: float | None, other: float | None) -> Iterator[str]:
    """Yield ``words`` with both lengths, and by how much they differ, if a tape would show it."""
    if one is not None and other is not None and _apart(one, other):
        apart = feet_inches(abs(one - other), 1)
        yield _("{fathoms}: {apart} apart").format(
            fathoms=words.format(fathoms(one), fathoms(other)), apart=apart
        )


def legs_apart(rig: Rig) -> tuple[str, ...]:
    """Return the lengths of legs and cables that differ where they should not, in words."""
    found: list[str] = []
    for leg in rig.legs:
        found += _unequal(_("top leg {}, bottom leg {}"), leg.top_length, leg.bottom_length)
    legs = {each.side: each for each in rig.legs}
    if len(legs) == len(SIDES):
        port, starboard = legs[PORT], legs[STARBOARD]
        words = _("top legs {} to port, {} to starboard")
        found += _unequal(words, port.top_length, starboard.top_length)
        words = _("bottom legs {} to port, {} to starboard")
        found += _unequal(words, port.bottom_length, starboard.bottom_length)
    cables = {each.side: each.length for each in rig.ground_cables}
    if len(cables) == len(SIDES):
        words = _("ground cables {} to port, {} to starboard")
        found += _unequal(words, cables[PORT], cables[STARBOARD])
    # The net form asks for both sides at once, which would say the same twice.
    return tuple(dict.fromkeys(found))


def legs_first(rig: Rig) -> str | None:
    """Return what to do about legs that differ, in words; None if none do."""
    found = legs_apart(rig)
    if not found:
        return None
    return _("Measure the legs and cables first. They were entered unequal ({found})").format(
        found="; ".join(found)
    )


@dataclass(frozen=True, slots=True)
class Jump:
    """
    A height that changed from one tow to the next, the net being the same.

    ``before`` and ``after`` are metres, on ``side`` or, if that is None, on the whole
    footrope; ``since`` is the first tow after it. ``by`` is ``model``, or ``rule`` where it
    is length minus shine that shows it. The speeds are means before and after, m/s.
    """

    side: str | None
    by: str
    before: float
    after: float
    since: TowHeights
    speed_before: float
    speed_after: float

    @property
    def by_speed(self) -> bool:
        """Whether the net was towed at another speed, so that it was not for nothing."""
        return abs(self.speed_after - self.speed_before) > SPEED_SPREAD

    @property
    def text(self) -> str:
        """What to do about it, in words."""
        where = (
            _("The footrope") if self.side is None else _("The {side} side").format(side=self.side)
        )
        if self.by == RULE:
            where = _("By length minus shine {where}{where2}").format(
                where=where[0].lower(), where2=where[1:]
            )
        went = "dropped" if self.after < self.before else "rose"
        said = _("{where} {went} from about {inches} to {inches2} from one tow to the next").format(
            where=where, went=went, inches=inches(self.before, 1), inches2=inches(self.after, 1)
        )
        if self.by_speed:
            return _(
                "Tow at the old speed before you change anything. {said}, and the speed went "
                "from {value:.1f} to {value2:.1f} kn"
            ).format(said=said, value=self.speed_before / KNOT, value2=self.speed_after / KNOT)
        what = (
            _("something snagged, and for crushed or lost floats,")
            if self.after < self.before
            else _("droppers that are lost, tangled or snagged")
        )
        return _(
            "Look for {what} before you change anything. {said}, and the log shows no change "
            "of the net"
        ).format(what=what, said=said)


def _sudden(one: TowHeights, other: TowHeights, side: str | None, by: str) -> bool:
    """
    Return whether the height went by more than it can with nothing changed.

    Of two tows at one speed length minus shine can be compared too: it is what is seen on
    deck, and a fast tow brings low heights together in the model.
    """
    if by == RULE and abs(one.tow.speed - other.tow.speed) > SPEED_SPREAD:
        return False
    before, after = one.level(side, by), other.level(side, by)
    return before is not None and after is not None and abs(after - before) > SUDDEN


def latest_run(used: Run) -> tuple[Run, Jump | None]:
    """
    Return (the tows since the last sudden change, the Jump or None).

    ``used`` are TowHeights of one rig, oldest first, at least one. The Jump is None where
    the height came back to what it was, or where the tows before scattered as much.
    """
    start, side_of_it, by = 0, None, MODEL
    # Length minus shine of one side scatters too much to go by; that of the whole footrope not.
    for way, side in ((MODEL, None), (MODEL, PORT), (MODEL, STARBOARD), (RULE, None)):
        for at, (one, other) in enumerate(pairwise(used), 1):
            if at > start and _sudden(one, other, side, way):
                start, side_of_it, by = at, side, way
    run, earlier = used[start:], used[:start]
    if not earlier:
        return run, None
    before = [level for each in earlier if (level := each.level(side_of_it, by)) is not None]
    after = mean([level for each in run if (level := each.level(side_of_it, by)) is not None])
    usual = median(before)
    if abs(after - usual) <= max(SUDDEN, max(before) - min(before)):
        return run, None
    jump = Jump(
        side=side_of_it,
        by=by,
        before=usual,
        after=after,
        since=run[0],
        speed_before=mean([each.tow.speed for each in earlier]),
        speed_after=mean([each.tow.speed for each in run]),
    )
    return run, jump


def lopsided(run: Run) -> str | None:
    """Return the side that flies lower on the latest of ``run`` that shows it, or None."""
    told = [each for each in run if each.difference is not None]
    return told[-1].low_side if told else None


def sides_first(rig: Rig, low: str, was_level: bool) -> str:
    """
    Return what to do about the ``low`` side, in words.

    ``was_level`` says whether earlier tows of the same net flew level.
    """
    if was_level:
        return _(
            "Look for something snagged and for crushed floats on the {low} side before you "
            "change anything. The net flew level before"
        ).format(low=low)
    text = _("Measure warps, ground cables and legs on both sides against each other first")
    port, starboard = (rig.footrope.wing(side) for side in SIDES)
    if _apart(port, starboard):
        text += _(". The wings too: they were entered {feet_inches} apart").format(
            feet_inches=feet_inches(abs(port - starboard), 1)
        )
    return text


def was_level(used: Run) -> bool:
    """Return whether the first tow after which ``used`` became lopsided was level before."""
    told = [each for each in used if each.difference is not None]
    return (
        bool(told)
        and told[-1].low_side is not None
        and any(each.low_side is None for each in told[:-1])
    )
