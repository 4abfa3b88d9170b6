"""
What a vessel's events come to: a fold over them, with no database in it.

The order of events is that of their day, then of when they were recorded, then of their
number; in which order they are handed in makes no difference.
"""

from collections.abc import Iterable
from datetime import date, datetime
from typing import NamedTuple

from .stages import Stage

ORDER = {stage: number for number, stage in enumerate(Stage)}


class Happening(NamedTuple):
    """An event of one vessel, as AdoptionEvent has it; ``corrects`` is the number of another."""

    pk: int
    stage: str
    day: date
    recorded: datetime
    corrects: int | None = None
    is_withdrawal: bool = False


class Move(NamedTuple):
    """On ``day`` a vessel left the stage ``left``, blank for none yet, and entered ``entered``."""

    day: date
    left: str
    entered: str


class Standing(NamedTuple):
    """
    Where a vessel stands.

    ``stage`` is blank before the first contact. ``since`` is the day of the latest move,
    ``converted`` the first day it fished without a sweep, ``went_back`` the day of the
    latest move back, ``last_event`` that of the latest standing event; None for never.
    """

    stage: str = ""
    since: date | None = None
    first_contact: date | None = None
    converted: date | None = None
    went_back: date | None = None
    last_event: date | None = None
    moves: tuple[Move, ...] = ()


def standing_of(events: Iterable[Happening]):
    """Return those of ``events`` that no other corrects and that withdraw nothing, in order."""
    events = list(events)
    corrected = {event.corrects for event in events}
    kept = [each for each in events if each.pk not in corrected and not each.is_withdrawal]
    return sorted(kept, key=lambda event: (event.day, event.recorded, event.pk))


def _goes_on(stage, to):
    """Return whether a vessel at ``stage`` moves by reaching ``to``."""
    if stage in ("", Stage.BACK):
        return to != stage and (stage == "" or to == Stage.CONVERTED)
    return ORDER[to] > ORDER[stage]


def fold(events: Iterable[Happening]):
    """
    Return the Standing that ``events`` of one vessel come to.

    The furthest stage reached counts. Going back takes the vessel out of all of them, and
    from there only fishing without a sweep again brings it back in.
    """
    kept = standing_of(events)
    if not kept:
        return Standing()
    stage, moves = "", []
    for event in kept:
        if _goes_on(stage, event.stage):
            moves.append(Move(event.day, str(stage), event.stage))
            stage = event.stage
    days = {entered: day for day, _, entered in reversed(moves)}
    back = [move.day for move in moves if move.entered == Stage.BACK]
    return Standing(
        stage=stage,
        since=moves[-1].day,
        first_contact=kept[0].day,
        converted=days.get(Stage.CONVERTED),
        went_back=back[-1] if back else None,
        last_event=kept[-1].day,
        moves=tuple(moves),
    )
