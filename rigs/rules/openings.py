"""
May this vessel fish here, on this day, with this gear?

One answer a fishery: its own rules (season, area, letter, mesh, catch), those for the
gear that it takes over, and those that go along with a vessel on the letter of another
fishery, all judged by ``judge``. An answer says what is met and what is broken and what is
not known; what follows from it in law it does not say.
"""

from collections.abc import Collection, Iterable
from dataclasses import replace
from datetime import date, timedelta
from typing import Any, NamedTuple

from rigs.words.gear import Codend, Footrope, Headrope, Rig
from rigs.words.say import gettext as _
from rigs.words.trip import Position, Trip

from . import rulebook as rulebooks
from .judge import Finding, Verdict, judge
from .outcomes import FAIL, NOT_MEASURED, PASS
from .rulebook import Area, Requirement, Rulebook, Season
from .waters import Standing, standing

_UNMEASURED = Rig(Headrope(None), Footrope(0.0, 0.0, 0.0, None), droppers=None, floats=None)
"""Stands for a rig nobody has looked at, so that its codend alone can be judged."""

_WHERE_AND_WHEN = ("days", "area", "flag", "day count")
"""Dimensions of the rules on a trip that are about its days, its waters and its letter."""
_CATCH = ("names", "mass by mesh", "mass", "share")
"""Dimensions of the rules that are about its catch."""


def _place_on_page(finding: Finding) -> int:
    return (_WHERE_AND_WHEN + _CATCH).index(finding.requirement.measure.dimension)


def _is_where_or_when(requirement: Requirement) -> bool:
    return requirement.of_trip and requirement.measure.dimension in _WHERE_AND_WHEN


Asked = tuple[str, str, Any]
"""What a requirement asks: its key, its test and its limit."""


class Rigged(NamedTuple):
    """
    What a trip is fished with.

    ``rig`` is None if it was not measured. ``gear`` names the rule set for gear to go
    by; if it is None, that goes by whether the rig has a sweep. ``codend`` and
    ``vessel_length`` in metres, if given, count before those of the rig.
    """

    rig: Rig | None = None
    gear: str | None = None
    codend: Codend | None = None
    vessel_length: float | None = None


NOT_TOLD = Rigged()


class Part(NamedTuple):
    """
    One area of a fishery, whether it is open on the day, and the Standing of the
    position to it, None if no position was told.
    """

    area: Area
    is_open: bool
    standing: Standing | None


class Closure(NamedTuple):
    """A closed Area, by which ``clause``, and the Standing of the position to it or None."""

    area: Area
    clause: str
    standing: Standing | None

    @property
    def holds(self) -> bool:
        """Whether the position lies inside or too near the line to say; False without one."""
        return self.standing is not None and (
            self.standing.inside is not False or self.standing.on_the_line
        )


class Opening(NamedTuple):
    """The first ``day``, a date, on which ``areas`` of a fishery are open."""

    day: date
    areas: tuple[Area, ...]


class Group(NamedTuple):
    """Findings that are read together, in the order of their rule sets."""

    findings: tuple[Finding, ...]

    def _of(self, outcome: str) -> tuple[Finding, ...]:
        return tuple(f for f in self.findings if f.outcome == outcome and f.requirement.binds)

    @property
    def failed(self) -> tuple[Finding, ...]:
        """Findings of a rule that is broken."""
        return self._of(FAIL)

    @property
    def unknown(self) -> tuple[Finding, ...]:
        """Findings on what is not known or not measured."""
        return self._of(NOT_MEASURED)

    @property
    def passed(self) -> tuple[Finding, ...]:
        """Findings of a rule that is met."""
        return self._of(PASS)


class Answer(NamedTuple):
    """
    What the rules of one fishery say to a trip.

    ``fishery`` is the Verdict by its own rule set, ``gear`` that by the rule set for
    gear that it takes over, None if it has gear rules of its own. ``along`` are Verdicts on
    what else binds a vessel that is on the letter of another fishery, that fishery's first.
    ``next_opening`` is None where something is open on the day, or nothing ever is.
    """

    fishery: Verdict
    gear: Verdict | None
    parts: tuple[Part, ...]
    along: tuple[Verdict, ...] = ()
    closures: tuple[Closure, ...] = ()
    next_opening: Opening | None = None

    @property
    def rulebook(self) -> Rulebook:
        """The Rulebook of the fishery."""
        return self.fishery.rulebook

    @property
    def verdicts(self) -> tuple[Verdict, ...]:
        """The Verdicts: the fishery's, that on gear if it is another's, those that go along."""
        own = (self.fishery,) if self.gear is None else (self.fishery, self.gear)
        return own + self.along

    @property
    def _own(self) -> tuple[Finding, ...]:
        own = (self.fishery,) if self.gear is None else (self.fishery, self.gear)
        return tuple(finding for verdict in own for finding in verdict.findings)

    @property
    def _all(self) -> Group:
        return Group(tuple(f for verdict in self.verdicts for f in verdict.findings))

    @property
    def lacks_gear_rules(self) -> bool:
        """Whether the fishery takes over rules for gear that have no version for the day."""
        return bool(self.rulebook.gear) and self.gear is None

    @property
    def is_open(self) -> bool:
        """Whether any area of the fishery is open on the day."""
        return any(part.is_open for part in self.parts)

    @property
    def trip(self) -> Group:
        """The Group of findings on where, when, letter and catch, in that order."""
        found = [f for f in self._own if f.requirement.of_trip]
        return Group(tuple(sorted(found, key=_place_on_page)))

    @property
    def rig(self) -> Group:
        """The Group of findings on the gear, the codend's mesh included."""
        return Group(tuple(f for f in self._own if not f.requirement.of_trip))

    @property
    def gone_along(self) -> Group:
        """The Group of findings that bind the vessel since it is on another fishery's letter."""
        return Group(tuple(f for verdict in self.along for f in verdict.findings))

    @property
    def failed(self) -> tuple[Finding, ...]:
        """All findings of a rule that is broken."""
        return self._all.failed

    @property
    def unknown(self) -> tuple[Finding, ...]:
        """All findings on what is not known or not measured."""
        return self._all.unknown

    @property
    def warnings(self) -> tuple[Finding, ...]:
        """The findings on what the fishery as a whole is weighed by: a trip breaks none."""
        return self.fishery.warnings

    @property
    def on_the_line(self) -> tuple[Standing, ...]:
        """The Standings too near a line, of the areas open on the day, to be sure of."""
        return tuple(
            part.standing
            for part in self.parts
            if part.is_open and part.standing and part.standing.on_the_line
        )


def fisheries(on: date | None = None) -> tuple[Rulebook, ...]:
    """
    Return the Rulebooks that have an area, in force on the date ``on``.

    Without a date it is each in its latest version.
    """
    return tuple(book for book in rulebooks.everything(on) if book.has("area"))


def gear_books(on: date | None = None) -> tuple[Rulebook, ...]:
    """Return the Rulebooks for gear that some fishery takes over, as ``fisheries`` does."""
    taken_over = {name for book in fisheries(on) for name in book.gear}
    return tuple(book for book in rulebooks.everything(on) if book.name in taken_over)


def lapsed(on: date) -> tuple[Rulebook, ...]:
    """
    Return the rule sets of fisheries, and for their gear, that have no version for ``on``.

    ``on`` is a date; each is its ``rulebook.nearest``. No answer goes by them.
    """
    near = [rulebooks.nearest(name, on) for name in rulebooks.names()]
    asked = {book.name for book in near if book.has("area")}
    asked |= {name for book in near for name in book.gear}
    return tuple(
        book
        for book in near
        if book.name in asked and rulebooks.find_in_force(book.name, on) is None
    )


def species(on: date | None = None) -> tuple[str, ...]:
    """Return the names of all animals that some fishery says may be kept."""
    limits = [
        book.requirement("kept_species").limit for book in fisheries(on) if book.has("kept_species")
    ]
    return tuple(dict.fromkeys(name for limit in limits for name in limit))


def parts(book: Rulebook, day: date, position: Position | None = None) -> tuple[Part, ...]:
    """Return the Parts of the waters of the fishery ``book`` on ``day``, a date."""
    open_areas = book.open_areas(day)
    return tuple(
        Part(area, area in open_areas, None if position is None else standing(position, area))
        for area in book.requirement("area").limit
    )


def next_opening(book: Rulebook, day: date) -> Opening | None:
    """
    Return the next Opening of the fishery ``book`` after ``day``, a date.

    None if no area of it opens within a year and a day.
    """
    for ahead in range(1, 367):
        later = day + timedelta(days=ahead)
        if areas := book.open_areas(later):
            return Opening(later, areas)
    return None


def closures(on: date, position: Position | None = None) -> tuple[Closure, ...]:
    """Return the Closures named by any fishery in force on the date ``on``, each once."""
    named: dict[Area, str] = {}
    for book in fisheries(on):
        if book.has("closures"):
            requirement = book.requirement("closures")
            named |= dict.fromkeys(requirement.limit, requirement.clause)
    return tuple(
        Closure(area, clause, None if position is None else standing(position, area))
        for area, clause in named.items()
    )


def _judge_rig(rigged: Rigged, book: Rulebook, trip: Trip) -> Verdict:
    """Return the Verdict on the rig, whether it was measured or not, and on the trip."""
    told = _UNMEASURED if rigged.rig is None else rigged.rig
    told = told.with_(
        codend=rigged.codend or told.codend,
        vessel_length=rigged.vessel_length or told.vessel_length,
    )
    verdict = judge(told, book, trip.day, trip)
    if rigged.rig is not None:
        return verdict
    return verdict._replace(
        findings=tuple(
            finding
            if finding.requirement.of_trip or finding.key.startswith("mesh_")
            else Finding(finding.requirement, NOT_MEASURED, None, None, ())
            for finding in verdict.findings
        )
    )


def _gear_book(
    book: Rulebook, rig: Rig | None, gear: str | None, on: date | None
) -> Rulebook | None:
    """Return the Rulebook for gear to judge by besides ``book``, None if it needs none."""
    candidates = [each for each in gear_books(on) if each.name in book.gear]
    has_sweep = rig is not None and rig.sweep is not None
    # False sorts first: what was named, or else what fits the sweep, or its absence.
    return min(
        candidates,
        default=None,
        key=lambda each: (each.name != gear, each.has("no_sweep") == has_sweep),
    )


def _letter_books(book: Rulebook, trip: Trip, day: date) -> tuple[Rulebook, ...]:
    """Return the Rulebooks of other fisheries whose letter the vessel is on, and that follow it."""
    if not trip.letter_aboard or (trip.letter_asked and trip.letter_asked >= day):
        return ()
    return tuple(
        each
        for each in fisheries(day)
        if each.follows and each.has("letter_aboard") and each.name != book.name
    )


def _gear_along(
    other: Rulebook, book: Rulebook, rig: Rig | None, gear: str | None, on: date | None
) -> Rulebook | None:
    """
    Return the Rulebook for gear that goes along with the letter of ``other``.

    Where the fishery ``book`` has gear rules of its own, it is the one that is like them.
    """
    alike = [
        each.name
        for each in gear_books(on)
        if each.name in other.gear and each.has("no_sweep") == book.has("no_sweep")
    ]
    if not book.gear and alike:
        (gear, *__) = alike
    return _gear_book(other, rig, gear, on)


def _asks(requirement: Requirement) -> Asked:
    return requirement.key, requirement.test, requirement.limit


def _along(verdict: Verdict, told: Collection[Asked]) -> Verdict:
    """Return ``verdict`` with only what binds outside its fishery and is not ``told`` yet."""
    return verdict._replace(
        findings=tuple(
            finding
            for finding in verdict.findings
            if finding.requirement.binds
            and _asks(finding.requirement) not in told
            and not (
                finding.requirement.of_trip
                and finding.requirement.measure.dimension in _WHERE_AND_WHEN
            )
        )
    )


def answer(book: Rulebook, trip: Trip, rigged: Rigged = NOT_TOLD) -> Answer:
    """
    Return the Answer of the fishery ``book`` to ``trip``, whose day must be known.

    A vessel on the letter of another fishery is judged by the more restrictive of both:
    what may be kept, how much of it, mesh and gear have to be right by each. Days and
    waters are those of the fishery it is in; that is how the clause is read here.

    Raise ValueError if the rule set does not hold on the day, or no day is told.
    """
    day, rig, gear = trip.day, rigged.rig, rigged.gear
    if day is None:
        raise ValueError(_("The day of the trip is not known."))
    towed = rigged.codend or (rig.codend if rig else None)
    if towed is not None and trip.mesh_in_use is None:
        trip = replace(trip, mesh_in_use=towed.mesh)

    gear_book = _gear_book(book, rig, gear, day)
    own = [_judge_rig(rigged, each, trip) for each in (book, gear_book) if each]
    told = {_asks(f.requirement) for verdict in own for f in verdict.findings}
    along = []
    for other in _letter_books(book, trip, day):
        other_gear = _gear_along(other, book, rig, gear, day)
        along.append(_along(_judge_rig(rigged, other, trip), told))
        if other_gear:
            more = _along(_judge_rig(rigged, other_gear, trip), told)
            along += [more] if more.findings else []
    where = parts(book, day, trip.position)
    return Answer(
        own[0],
        own[1] if gear_book else None,
        where,
        tuple(along),
        closures(day, trip.position),
        None if any(part.is_open for part in where) else next_opening(book, day),
    )


def answers(
    trip: Trip, fishery: str | None = None, rigged: Rigged = NOT_TOLD
) -> tuple[Answer, ...]:
    """
    Return an Answer for each fishery, or for the one named ``fishery`` alone.

    Those with the least broken come first, then those with the least not known.
    """
    found = [
        answer(book, trip, rigged)
        for book in fisheries(trip.day)
        if fishery is None or book.name == fishery
    ]
    return tuple(sorted(found, key=lambda each: (len(each.failed), len(each.unknown))))


def next_season(name: str, day: date, books: Iterable[Rulebook]) -> date | None:
    """
    Return the first date after ``day`` on which a fishery opens that goes by the rules ``name``.

    It is the rule set of a fishery itself, or one for gear that fisheries of ``books``,
    Rulebooks, take over. None if none of them has a season.
    """
    return min((season.begins_after(day) for season in _seasons(name, books)), default=None)


def season_on(name: str, day: date, books: Iterable[Rulebook]) -> date | None:
    """
    Return the first date of a season open on ``day`` in a fishery that goes by ``name``.

    The fisheries are those of ``books`` that ``next_season`` has. The earliest one if several
    are open, None if none is.
    """
    # The last one to begin by then is the first in the year up to it, or begins that day.
    before = (day - timedelta(days=366), day - timedelta(days=1))
    beginnings = [
        first
        for season in _seasons(name, books)
        for first in map(season.begins_after, before)
        if first <= day <= season.ends_after(first)
    ]
    return min(beginnings, default=None)


def _seasons(name: str, books: Iterable[Rulebook]) -> list[Season]:
    return [
        season
        for book in books
        if name == book.name or name in book.gear
        if book.has("season")
        for season in book.requirement("season").limit
    ]
