"""A whole sheet judged: by the rule set for the gear, and by that of the fishery with it."""

from collections.abc import Callable, Collection, Sequence
from datetime import date
from typing import NamedTuple

from rigs.requirements.trip import trip_of
from rigs.rules import placed
from rigs.rules import rulebook as rulebooks
from rigs.rules.judge import Finding, Verdict, judge
from rigs.rules.outcomes import FAIL, NOT_MEASURED
from rigs.rules.rulebook import Rulebook, RulebookError
from rigs.words.keyboard import plain
from rigs.words.positions import PositionError, parse_position
from rigs.words.say import gettext as _
from rigs.words.trip import Position

from .sheet import Answers, Tally, tally_of
from .sheet import judged as judged_by_one
from .steps import each_asked, goes_with


class Whole(NamedTuple):
    """
    The Verdicts of all rule sets that a sheet is checked by, the gear's first.

    What two of them ask alike is told once, by the first.
    """

    verdicts: tuple[Verdict, ...]

    @property
    def rulebooks(self) -> tuple[Rulebook, ...]:
        """The rule sets, each once."""
        return tuple(dict.fromkeys(verdict.rulebook for verdict in self.verdicts))

    @property
    def findings(self) -> tuple[Finding, ...]:
        """All findings, in the order of the rule sets."""
        return self._all(lambda verdict: verdict.findings)

    def finding(self, key: str) -> Finding:
        """Return the Finding on the requirement ``key``; raise KeyError if there is none."""
        return {finding.key: finding for finding in self.findings}[key]

    def _all(self, of: Callable[[Verdict], tuple[Finding, ...]]) -> tuple[Finding, ...]:
        return tuple(finding for verdict in self.verdicts for finding in of(verdict))

    @property
    def failed(self) -> tuple[Finding, ...]:
        """Findings outside a clause."""
        return self._all(lambda verdict: verdict.failed)

    @property
    def passed(self) -> tuple[Finding, ...]:
        """Findings inside a clause."""
        return self._all(lambda verdict: verdict.passed)

    @property
    def not_measured(self) -> tuple[Finding, ...]:
        """Findings on what a clause asks and nobody measured, or that cannot be told."""
        return self._all(lambda verdict: verdict.not_measured)

    @property
    def customs(self) -> tuple[Finding, ...]:
        """Findings on what is done by custom, with no clause that asks for it."""
        return self._all(lambda verdict: verdict.customs)

    @property
    def warnings(self) -> tuple[Finding, ...]:
        """Findings on what a fishery as a whole is weighed by: a sheet can break none."""
        return self._all(lambda verdict: verdict.warnings)

    @property
    def legal(self) -> bool | None:
        """Whether all is inside, None where a part was not measured and none is outside."""
        if self.failed:
            return False
        return None if self.not_measured else True

    def tally(self, told: Collection[str] = frozenset()) -> Tally:
        """Return the Tally; ``told`` names the questions that were told, not measured."""
        return tally_of(self.failed, self.passed, self.not_measured, told)


def books_of(rulebook: Rulebook, fishery: Rulebook | None = None) -> tuple[Rulebook, ...]:
    """
    Return what to check by: the rule set for the gear, then that of the fishery if there is one.

    A rule set that is its own fishery is there twice: once for its gear, once for its trip.
    """
    return (rulebook,) if fishery is None else (rulebook, fishery)


def books_on(rulebook: str, fishery: str, on: date) -> tuple[Rulebook, ...]:
    """
    Return ``books_of`` the rule sets of those names, in force on the date ``on``.

    ``fishery`` is empty for none. Raise RulebookError, with words, where one has no version
    for that day, and where the fishery is not fished with that gear.
    """
    gear = rulebooks.in_force(rulebook, on)
    if not fishery:
        return books_of(gear)
    book = rulebooks.in_force(fishery, on)
    if gear.name not in goes_with(book):
        raise RulebookError(
            _("“{fishery}” is not fished with the gear of “{gear}”. Change one of the two.").format(
                fishery=book.title, gear=gear.title
            )
        )
    return books_of(gear, book)


def every_fishery() -> tuple[Rulebook, ...]:
    """Return every version of every rule set of a fishery, for a sheet of any day."""
    books = (book for name in rulebooks.names() for book in rulebooks.versions(name))
    return tuple(book for book in books if book.has("area"))


def fisheries_with(gear: str, on: date) -> tuple[Rulebook, ...]:
    """Return the fisheries that the rule set ``gear`` goes with, each the nearest to ``on``."""
    nearest = (rulebooks.nearest(name, on) for name in rulebooks.names())
    return tuple(book for book in nearest if book.has("area") and gear in goes_with(book))


class _Place(NamedTuple):
    """The position at the head of a sheet, or why it could not be read."""

    position: Position | None
    problem: str = ""


def _place(text: str) -> _Place:
    if not plain(text).strip():
        return _Place(None)
    try:
        return _Place(parse_position(text))
    except PositionError as error:
        return _Place(None, str(error))


def _placed(finding: Finding, book: Rulebook, on: date | None, place: _Place) -> Finding:
    """Return a ``finding`` on waters by where the position surely lies, or why it is not known."""
    requirement, position = finding.requirement, place.position
    areas = requirement.limit
    if requirement.test == "inside" and on:
        areas = book.open_areas(on)
    if not areas:
        return Finding(requirement, FAIL, None, None, ())
    if position is None:
        missing = (place.problem,) if place.problem else ()
        return Finding(requirement, NOT_MEASURED, None, None, (), missing)
    found = placed.settle(position, areas)
    return Finding(requirement, placed.outcome(requirement.test, found), found, None, ())


def _on_trip(
    answers: Answers, book: Rulebook, on: date | None, place: _Place
) -> tuple[Finding, ...]:
    """Return the findings of ``book`` on the trip that the ``answers`` tell of."""
    verdict = judge(None, book, on, trip_of(answers, on, place.position))
    return tuple(
        _placed(finding, book, on, place)
        if finding.requirement.measure.dimension == "area"
        # What a spot of a trip would say is in the sentence.
        else finding._replace(spots=(), missing=())
        for finding in verdict.findings
    )


def judged(
    answers: Answers, books: Sequence[Rulebook], on: date | None = None, position: str = ""
) -> Whole:
    """
    Return the Whole of what was written down, on the date ``on``.

    ``books`` are as ``books_of`` has them, ``position`` that of the sheet's head, as typed.
    Raise ValueError if one of them has no version for that day.
    """
    place = _place(position)
    verdicts = []
    for book, requirements in each_asked(books):
        verdict = judged_by_one(answers, book, on)
        of_trip = any(each.of_trip for each in requirements)
        trip = _on_trip(answers, book, on, place) if of_trip else ()
        found = {finding.requirement: finding for finding in (*verdict.findings, *trip)}
        findings = tuple(found[each] for each in requirements if each in found)
        verdicts.append(verdict._replace(findings=findings))
    return Whole(tuple(verdicts))
