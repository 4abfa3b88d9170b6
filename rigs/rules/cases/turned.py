"""Which cases a new version of a rule set turns: what came of them, and what would."""

from dataclasses import replace
from datetime import date
from typing import Any, NamedTuple

from ..book import Rulebook
from ..changes import NO_RULE
from ..judge import Finding, judge
from ..outcomes import PASS
from . import Case, everything


class Turn(NamedTuple):
    """A rule that comes out otherwise for a case; None where a version has no such rule."""

    before: Finding | None
    after: Finding | None

    @property
    def title(self) -> str:
        """What the rule is about."""
        told = self.after or self.before
        return told.title if told else ""

    @property
    def said(self) -> tuple[str, ...]:
        """How it came out and why, in words for a page."""
        return _in_words(self.before)

    @property
    def would_say(self) -> tuple[str, ...]:
        """How it would come out and why, in words for a page."""
        return _in_words(self.after)


def _in_words(finding: Finding | None) -> tuple[str, ...]:
    return (finding.mark, finding.sentence) if finding else (NO_RULE,)


class TurnedCase(NamedTuple):
    """A Case with its Turns, in the order of the new version, both asked for the date ``day``."""

    case: Case
    day: date
    turns: tuple[Turn, ...]


def of_rules(name: str) -> tuple[Case, ...]:
    """Return the Cases of the rule set ``name``, in the order of their files."""
    return tuple(case for case in everything() if case.rules == name)


def turned(old: Rulebook, new: Rulebook) -> tuple[TurnedCase, ...]:
    """
    Return the cases of the rule set that ``new``, a later version than ``old``, turns.

    A rule that a case does not name is met, and so is one that there is not. Each case is
    asked for a day that both versions may have: its own, or the same day of a later year.
    """
    found = []
    for case in of_rules(new.name):
        day = _on_or_after(case.day, new.effective_from)
        before, after = (_findings(case, book, day) for book in (old, new))
        turns = tuple(
            Turn(before.get(key), after.get(key))
            for key in dict.fromkeys((*after, *before))
            if _told(before.get(key)) != _told(after.get(key))
        )
        if turns:
            found.append(TurnedCase(case, day, turns))
    return tuple(found)


def _on_or_after(day: date, first: date) -> date:
    """Return ``day``, or the first of its month and day on or after the date ``first``."""
    year = day.year
    while day < first:
        year += 1
        try:
            day = day.replace(year=year)
        except ValueError:  # February 29
            continue
    return day


def _findings(case: Case, book: Rulebook, day: date) -> dict[str, Finding]:
    trip = case.trip
    if trip is not None:
        asked = trip.letter_asked and trip.letter_asked + (day - case.day)
        trip = replace(trip, day=day, letter_asked=asked)
    verdict = judge(case.rig, replace(book, effective_to=None), day, trip)
    return {finding.key: finding for finding in verdict.findings}


def _told(finding: Finding | None) -> Any:
    """Return what a case tells of ``finding``: a rule that is met is not named."""
    if finding is None or finding.outcome == PASS:
        return PASS
    told = finding.basis, finding.outcome
    return (*told, finding.clause, finding.margin_text) if finding.failed else told
