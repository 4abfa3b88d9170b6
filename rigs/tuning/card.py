"""
What changes do to a net in flight, one by one, worked out to be read where nobody can ask.

A row is plain data, to be kept: ``of_change`` makes one, ``words`` says it.
"""

from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple

from rigs.physics.flight import POINTS, Cases, NotAtRest, Span, Spread, compare
from rigs.rules.judge import Verdict, judge
from rigs.words.gear import PORT, STARBOARD, Rig

from .flight_words import moved, span, verdict_at
from .flights.mends import Mend, named
from .remarks import broken_by

CHANGES = (
    Mend("floats", 2),
    Mend("floats", 4),
    Mend("floats", -2),
    Mend("floats", -4),
    Mend("droppers", 2),
    Mend("headrope", 4),
    Mend("footrope", 4),
    Mend("floats", 2, PORT),
    Mend("floats", 2, STARBOARD),
)
"""What is worked out of every net, each change by itself."""

_CENTER = len(POINTS) // 2


def of_change(mend: Mend, rig: Rig, cases: Cases) -> dict[str, Any]:
    """
    Return what ``mend`` does to ``rig``, with which ``cases`` fly, as plain data.

    ``likely`` is how far each of flight's POINTS goes up in metres, ``spreads`` are its Spreads
    without their names. Of a change that cannot be flown, or made, ``trouble`` says why.
    """
    row: dict[str, Any] = {"change": mend.key}
    try:
        after = mend.on(rig)
        found = compare(cases.beliefs, rig, after)
        spreads = cases.after(after)
    except (ValueError, KeyError, NotAtRest) as error:
        return row | {"trouble": str(error.args[0])}
    return row | {
        "likely": [each.change for each in found],
        "spreads": [each[1:] for each in spreads],
    }


class Place(NamedTuple):
    """One place in words: the likely ``change``, and what holds nine in ten."""

    name: str
    change: str
    span: str


class Row(NamedTuple):
    """
    A change in words: what it is, what it does at the five ``places`` and, where it does most, how
    ``sure`` that is.

    ``breaks`` are the titles of the rules that the net misses after it and did not before;
    ``trouble`` says why nothing is known of it.
    """

    change: str
    places: tuple[Place, ...] = ()
    sure: str = ""
    breaks: tuple[str, ...] = ()
    trouble: str = ""


def words(row: Mapping[str, Any], rig: Rig, before: Verdict | None) -> Row:
    """
    Return ``row``, of ``rig``, in words; no rule is looked at if its verdict ``before`` is None.

    Raise KeyError for a row of a change that nobody makes any more.
    """
    mend = named(row["change"])
    change = mend.words(rig)
    if "trouble" in row:
        return Row(change, trouble=row["trouble"])
    spreads = [_spread(*each) for each in zip(POINTS, row["spreads"], strict=True)]
    places = tuple(
        Place(spread.name, moved(likely), span(*spread.change))
        for likely, spread in zip(row["likely"], spreads, strict=True)
    )
    at = max(range(len(POINTS)), key=lambda i: (abs(row["likely"][i]), i == _CENTER))
    return Row(change, places, verdict_at(spreads[at]), _breaks(mend, rig, before))


def _spread(name: str, kept: Sequence[Any]) -> Spread:
    before, after, change, *counts = kept
    return Spread(name, Span(*before), Span(*after), Span(*change), *counts)


def _breaks(mend: Mend, rig: Rig, before: Verdict | None) -> tuple[str, ...]:
    if before is None:
        return ()
    after = judge(mend.on(rig), before.rulebook, before.on)
    return tuple(each.title for each in broken_by(before, after))
