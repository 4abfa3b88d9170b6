"""How well the last change of a net was foretold, by its own tows before and after it."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import NamedTuple

from rigs.physics.tow.report import SPEED_SPREAD
from rigs.words.gear import Rig
from rigs.words.say import gettext as _
from rigs.words.say import gettext_lazy
from rigs.words.units import KNOT, inches

from .log import TowHeights
from .proposals import lift
from .shown import shown, weighable
from .uplift import Uplift
from .window import mean

NEEDED = 2
"""Fewest tows before and after a change that say anything of it: one shows no scatter. A
choice, no source."""

CANNOT_COMPARE = gettext_lazy("The last change cannot be compared with what this site expected")

_MOST = 5  # tows on either side of the change; those farther off were towed in other times


@dataclass(frozen=True, slots=True)
class Foretold:
    """
    What was foretold of a net's last change, and what was seen; changes in metres.

    ``before`` and ``after`` are how many tows are compared; ``seen`` is the change of
    their mean height, between ``low`` and ``high`` by their scatter. All are None, and
    ``effect`` too, where it cannot be told; ``fits`` is then None, and ``text`` says why.
    """

    before: int
    after: int
    effect: Uplift | None
    seen: float | None
    low: float | None
    high: float | None
    fits: bool | None
    text: str


class SeenChange(NamedTuple):
    """A change of height in metres, as tows show it, between ``low`` and ``high``."""

    change: float
    low: float
    high: float

    def fits(self, effect: Uplift) -> bool:
        """Whether what was foretold can be what was seen."""
        return self.low <= effect.high and self.high >= effect.low


def last_change(read: Iterable[TowHeights]) -> Foretold:
    """
    Return the Foretold of the last change among ``read``, TowHeights, oldest first.

    Each names the rig it was made with. Only droppers and floats are foretold.
    """
    runs = [(rig, tuple(tows)) for rig, tows in groupby(read, key=lambda each: each.tow.rig)]
    if len(runs) < 2:
        return _untold(
            0,
            0,
            _(
                "The log holds no change of this net yet, so nothing shows how well a change is "
                "foretold."
            ),
        )
    (old, before), (new, after) = runs[-2:]
    before, after = before[-_MOST:], after[:_MOST]
    counts = len(before), len(after)
    if min(counts) < NEEDED:
        return _untold(
            *counts,
            _(
                "Too few tows to compare the last change with what this site expected: {counts} "
                "before it, {counts2} after it. It takes at least {NEEDED} of each."
            ).format(counts=counts[0], counts2=counts[1], NEEDED=NEEDED),
        )
    why_not = _cannot_compare(old, new, before, after)
    if why_not:
        return _untold(*counts, f"{CANNOT_COMPARE}: {why_not}")
    found = shown(old, before).effect(old, new, lift=lift(new) - lift(old))
    if found is None:
        return _untold(
            *counts,
            _(
                "{CANNOT_COMPARE}: the shine before it did not show how hard the net pulled up."
            ).format(CANNOT_COMPARE=CANNOT_COMPARE),
        )
    old_levels, new_levels = ([each.model for each in tows] for tows in (before, after))
    seen = SeenChange(
        mean(new_levels) - mean(old_levels),
        min(new_levels) - max(old_levels),
        max(new_levels) - min(old_levels),
    )
    return Foretold(*counts, found, *seen, seen.fits(found), _words(found, seen, counts))


def _untold(before: int, after: int, text: str) -> Foretold:
    return Foretold(before, after, None, None, None, None, None, text)


def _cannot_compare(
    old: Rig | None, new: Rig | None, before: Sequence[TowHeights], after: Sequence[TowHeights]
) -> str:
    """Return why the tows before and after cannot be compared, in words; empty if they can."""
    if old is None or new is None or old.with_(droppers=new.droppers, floats=new.floats) != new:
        return _("more was changed than droppers and floats.")
    if old.sweep is not None or not (weighable(old) and weighable(new)):
        return _("not every dropper hangs free and was measured.")
    if any(
        rig.floats is None or any(each.diameter is None for each in rig.floats)
        for rig in (old, new)
    ):
        return _("the floats were not all measured.")
    if any(each.clear_places for each in (*before, *after)):
        return _("some droppers showed no shine, so the footrope may have flown higher than shown.")
    speeds = [mean([each.tow.speed for each in tows]) for tows in (before, after)]
    if abs(speeds[1] - speeds[0]) > SPEED_SPREAD:
        return _("the net was towed at {value:.1f} kn before and {value2:.1f} kn after.").format(
            value=speeds[0] / KNOT, value2=speeds[1] / KNOT
        )
    return ""


def _moved(metres: float) -> str:
    """Return a change of height in words, to the inch: ``up 3 in``."""
    if round(abs(metres) * 1000) < 13:
        return _("no change")
    return f"{'up' if metres > 0 else 'down'} {inches(abs(metres), 1)}"


def _words(effect: Uplift, seen: SeenChange, counts: tuple[int, int]) -> str:
    said = _(
        "The last change: expected {moved} (from {moved2} to {moved3}), seen {moved4} over "
        "{counts} tows before and {counts2} after."
    ).format(
        moved=_moved(effect.change),
        moved2=_moved(effect.low),
        moved3=_moved(effect.high),
        moved4=_moved(seen.change),
        counts=counts[0],
        counts2=counts[1],
    )
    if not seen.fits(effect):
        return _(
            "{said} The two do not fit. Trust the figures for this net less than their range."
        ).format(said=said)
    if seen.low <= 0 <= seen.high:
        return _(
            "{said} The two fit, but the tows scatter so much that no change would fit as well."
        ).format(said=said)
    return _("{said} The two fit.").format(said=said)
