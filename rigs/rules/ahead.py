"""
What is open in the days ahead, fishery by fishery, and what a script tells of it by.

It is for who cannot ask ``openings`` when the day has come: which areas are open from when to
when, by the rule set in force on each day. What else a trip is judged by is left out.
"""

from collections.abc import Sequence
from datetime import date, timedelta
from typing import Any, NamedTuple

from rigs.words.bearing import miles
from rigs.words.days import long_day
from rigs.words.keyboard import PLAIN
from rigs.words.say import gettext as _

from . import openings, trip_sheet, waters
from .areas import Area
from .placed import INSIDE, NEAR, OUTSIDE, SHORE
from .rulebook import Rulebook

DAYS = 45
"""How many days are looked ahead: longer than any trip, and soon enough out of date."""


class Spell(NamedTuple):
    """Days on end, ``first`` to ``last``, on which the same ``areas`` of a fishery are open."""

    first: date
    last: date
    rulebook: Rulebook
    areas: tuple[Area, ...]

    def __str__(self) -> str:
        """Return what is open in words, and if nothing is, when it opens next."""
        if self.areas:
            return _("Open: {areas}.").format(areas=", ".join(each.title for each in self.areas))
        shut = _("No area of this fishery is open.")
        opening = openings.next_opening(self.rulebook, self.last)
        if opening is None:
            return shut
        return _("{shut} By these rules it opens next on {day}: {areas}.").format(
            shut=shut,
            day=long_day(opening.day),
            areas=", ".join(each.title for each in opening.areas),
        )


def spells(first: date, days: int = DAYS) -> dict[str, list[Spell]]:
    """
    Return the Spells of each fishery by its name, for so many days from ``first`` on.

    A day on which a fishery has no rule set is in none of them.
    """
    found: dict[str, list[Spell]] = {}
    for day in (first + timedelta(ahead) for ahead in range(days)):
        for book in openings.fisheries(day):
            areas, runs = book.open_areas(day), found.setdefault(book.name, [])
            goes_on = (
                runs
                and runs[-1].last == day - timedelta(1)
                and (runs[-1].rulebook, runs[-1].areas) == (book, areas)
            )
            if goes_on:
                runs[-1] = runs[-1]._replace(last=day)
            else:
                runs.append(Spell(day, day, book, areas))
    return found


def _area(area: Area) -> dict[str, Any]:
    return {"title": area.title, "corners": area.corners, "closed_by": area.closed_by}


def _sentences() -> dict[str, str]:
    """Return how a position lies to an area, with holes for the area, its line and how far off."""
    nearest = _("The nearest line, {line}, is {distance} off.")
    return {
        INSIDE: f"{_('The position lies inside {area}.')} {nearest}",
        OUTSIDE: f"{_('The position lies outside {area}.')} {nearest}",
        NEAR: _(
            "The position is {{distance}} from the line {{line}} of {{area}}. Within {doubt} of a "
            "line this site cannot tell on which side it lies. Ask before you rely on it."
        ).format(doubt=miles(waters.DOUBT)),
        SHORE: _(
            "The corners do not tell whether the position lies inside {area}. The shore closes it "
            "there, and the clause gives no points for the shore."
        ),
    }


def _closed() -> dict[str, str]:
    """Return what is said of a position at a closure, with holes for its name and its clause."""
    return {
        INSIDE: _(
            "Inside a closure: {area} ({clause}). The whiting fishery does not apply there, and "
            "the closure has rules of its own."
        ),
        NEAR: _(
            "Too near a closure to say: {area} ({clause}). Ask before you rely on the position."
        ),
    }


def script_data(found: dict[str, list[Spell]], first: date, days: int = DAYS) -> dict[str, Any]:
    """
    Return what a script needs to tell of ``found``, the Spells of so many days from ``first`` on.

    Limits and sentences are in it; a script only compares.
    """
    return {
        "first": first.isoformat(),
        "last": (first + timedelta(days - 1)).isoformat(),
        "signs": PLAIN,
        "waters": waters.script_rules(),
        "line": trip_sheet.LINE,
        "where": _sentences(),
        "closed": _closed(),
        "fisheries": [
            {"name": name, "title": runs[-1].rulebook.title, "spells": _told(runs)}
            for name, runs in found.items()
        ],
        "closures": [
            _area(each.area) | {"clause": each.clause} for each in openings.closures(first)
        ],
    }


def _with_state(area: Area, run: Spell) -> dict[str, Any]:
    """Return ``area`` named with whether it is open: who lies inside must not take it to be."""
    text = _("{title} (open that day)") if area in run.areas else _("{title} (not open that day)")
    return _area(area) | {"title": text.format(title=area.title)}


def _told(runs: Sequence[Spell]) -> list[dict[str, Any]]:
    return [
        {
            "first": run.first.isoformat(),
            "last": run.last.isoformat(),
            "words": str(run),
            "areas": [_with_state(each, run) for each in run.rulebook.requirement("area").limit],
        }
        for run in runs
    ]
