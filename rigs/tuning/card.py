"""
What changes do to a net in flight, one by one, worked out to be read where nobody can ask.

A row is plain data, to be kept: ``of_change`` makes one, ``words`` says it.
"""

from collections.abc import Mapping
from typing import Any, NamedTuple

from rigs.physics.flight import POINTS, Cases, NotAtRest, Span, compare
from rigs.rules.judge import judge
from rigs.rules.rulebook import Rulebook
from rigs.words.gear import PORT, STARBOARD, Rig
from rigs.words.say import gettext as _

from .flight_words import SURE, moved
from .flights.mends import Mend, named

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
"""What is worked out of every net: what can be done to it in an hour at the dock."""

_CENTER = len(POINTS) // 2


def of_change(mend: Mend, rig: Rig, cases: Cases) -> dict[str, Any]:
    """
    Return what ``mend`` does to ``rig``, with which ``cases`` fly, as plain data.

    ``likely`` is how far each of flight's POINTS goes up in metres, ``low`` and ``high`` hold nine
    in ten; ``rises`` and ``sinks`` count the nets of ``of``. Of a change that cannot be flown, or
    made, ``trouble`` says why.
    """
    row: dict[str, Any] = {"change": mend.key}
    try:
        after = mend.on(rig)
        found = compare(cases.beliefs, rig, after)
        spreads = cases.after(after)
    except (ValueError, KeyError, NotAtRest) as error:
        return row | {"trouble": str(error.args[0])}
    return row | {
        "likely": [round(each.change, 4) for each in found],
        "low": [round(each.change.low, 4) for each in spreads],
        "high": [round(each.change.high, 4) for each in spreads],
        "rises": [each.rises for each in spreads],
        "sinks": [each.sinks for each in spreads],
        "of": spreads[0].of,
    }


class Place(NamedTuple):
    """One place in words: the likely ``change``, and what holds nine in ten."""

    name: str
    change: str
    span: str


class Row(NamedTuple):
    """
    A change in words: what it is, what it does at the five ``places`` and how ``sure`` that is.

    ``breaks`` are the titles of the rules that the net misses after it and did not before;
    ``trouble`` says why nothing is known of it.
    """

    change: str
    places: tuple[Place, ...] = ()
    sure: str = ""
    breaks: tuple[str, ...] = ()
    trouble: str = ""


def words(row: Mapping[str, Any], rig: Rig, rulebook: Rulebook | None) -> Row:
    """
    Return ``row``, of ``rig``, in words, judged by ``rulebook``; by none if that is None.

    Raise KeyError for a row of a change that nobody makes any more.
    """
    mend = named(row["change"])
    change = mend.words(rig)
    if "trouble" in row:
        return Row(change, trouble=row["trouble"])
    places = tuple(
        Place(name, moved(likely), _span(Span(low, high)))
        for name, likely, low, high in zip(
            POINTS, row["likely"], row["low"], row["high"], strict=True
        )
    )
    return Row(change, places, _sure(row), _breaks(mend, rig, rulebook))


def _span(span: Span) -> str:
    low, high = moved(span.low), moved(span.high)
    return low if low == high else _("{low} to {high}").format(low=low, high=high)


def _sure(row: Mapping[str, Any]) -> str:
    """Return whether the way is sure where the change is largest."""
    at = max(range(len(POINTS)), key=lambda i: (abs(row["likely"][i]), i == _CENTER))
    most = max(row["rises"][at], row["sinks"][at])
    said = _("{most} of {of} go that way at the {place}.").format(
        most=most, of=row["of"], place=POINTS[at]
    )
    return said if most >= SURE * row["of"] else _("Not sure: {said}").format(said=said)


def _breaks(mend: Mend, rig: Rig, rulebook: Rulebook | None) -> tuple[str, ...]:
    if rulebook is None:
        return ()
    before = judge(rig, rulebook).failed_keys
    after = judge(mend.on(rig), rulebook).failed
    return tuple(each.title for each in after if each.requirement.key not in before)
