"""
May this vessel fish here, on this day, with this gear?

One answer a fishery: its own rules (season, area, letter, mesh, catch) and those for
the gear that it takes over, all judged by ``judge``. An answer says what is inside and
outside the clauses and what is not known; what follows from it in law it does not say.
"""

from typing import NamedTuple

from . import rulebook as rulebooks
from .gear import Footrope, Headrope, Rig
from .judge import FAIL, NOT_MEASURED, PASS, Finding, Verdict, judge
from .rulebook import Area, Rulebook
from .waters import Standing, standing

_UNMEASURED = Rig(Headrope(None), Footrope(0.0, 0.0, 0.0, None), droppers=None, floats=None)
"""Stands for a rig nobody has looked at, so that its codend alone can be judged."""


class Part(NamedTuple):
    """
    One area of a fishery, whether it is open on the day, and the Standing of the
    position to it, None if no position was told.
    """

    area: Area
    is_open: bool
    standing: Standing | None


class Group(NamedTuple):
    """Findings that are read together, in the order of their rule sets."""

    findings: tuple[Finding, ...]

    def _of(self, outcome):
        return tuple(f for f in self.findings if f.outcome == outcome and not f.by_custom)

    @property
    def failed(self):
        """Findings outside what their clause allows."""
        return self._of(FAIL)

    @property
    def unknown(self):
        """Findings on what is not known or not measured."""
        return self._of(NOT_MEASURED)

    @property
    def passed(self):
        """Findings inside what their clause allows."""
        return self._of(PASS)


class Answer(NamedTuple):
    """
    What the rules of one fishery say to a trip.

    ``fishery`` is the Verdict by its own rule set, ``gear`` that by the rule set for
    gear that it takes over, None if it has gear rules of its own.
    """

    fishery: Verdict
    gear: Verdict | None
    parts: tuple[Part, ...]

    @property
    def rulebook(self):
        """The Rulebook of the fishery."""
        return self.fishery.rulebook

    @property
    def verdicts(self):
        """The Verdicts: the fishery's, then that on the gear if there is one besides."""
        return (self.fishery,) if self.gear is None else (self.fishery, self.gear)

    @property
    def _findings(self):
        return tuple(finding for verdict in self.verdicts for finding in verdict.findings)

    @property
    def trip(self):
        """The Group of findings on where, when, letter and catch."""
        return Group(tuple(f for f in self._findings if f.requirement.of_trip))

    @property
    def rig(self):
        """The Group of findings on the gear, the codend's mesh included."""
        return Group(tuple(f for f in self._findings if not f.requirement.of_trip))

    @property
    def failed(self):
        """All findings outside what their clause allows."""
        return Group(self._findings).failed

    @property
    def unknown(self):
        """All findings on what is not known or not measured."""
        return Group(self._findings).unknown

    @property
    def on_the_line(self):
        """The Standings too near a line, of the areas open on the day, to be sure of."""
        return tuple(
            part.standing
            for part in self.parts
            if part.is_open and part.standing and part.standing.on_the_line
        )


def fisheries(on=None):
    """
    Return the Rulebooks that have an area, in force on the date ``on``.

    Without a date it is each in its latest version.
    """
    return tuple(book for book in rulebooks.everything(on) if book.has("area"))


def gear_books(on=None):
    """Return the Rulebooks for gear that some fishery takes over, as ``fisheries`` does."""
    taken_over = {name for book in fisheries(on) for name in book.gear}
    return tuple(book for book in rulebooks.everything(on) if book.name in taken_over)


def species(on=None):
    """Return the names of all animals that some fishery says may be kept."""
    limits = [
        book.requirement("kept_species").limit for book in fisheries(on) if book.has("kept_species")
    ]
    return tuple(dict.fromkeys(name for limit in limits for name in limit))


def parts(book, day, position=None):
    """Return the Parts of the waters of the fishery ``book`` on ``day``, a date."""
    in_season = any(season.open_on(day) for season in book.requirement("season").limit)
    return tuple(
        Part(
            area,
            in_season and (area.season is None or area.season.open_on(day)),
            None if position is None else standing(position, area),
        )
        for area in book.requirement("area").limit
    )


def _judge_rig(rig, book, trip, codend, vessel_length):
    """Return the Verdict on ``rig``, None for one not measured, and on the trip."""
    told = _UNMEASURED if rig is None else rig
    told = told.with_(
        codend=codend or told.codend, vessel_length=vessel_length or told.vessel_length
    )
    verdict = judge(told, book, trip.day, trip)
    if rig is not None:
        return verdict
    return verdict._replace(
        findings=tuple(
            finding
            if finding.requirement.of_trip or finding.key.startswith("mesh_")
            else Finding(finding.requirement, NOT_MEASURED, None, None, ())
            for finding in verdict.findings
        )
    )


def _gear_book(book, rig, gear, on):
    """Return the Rulebook for gear to judge by besides ``book``, None if it needs none."""
    candidates = [each for each in gear_books(on) if each.name in book.gear]
    has_sweep = rig is not None and rig.sweep is not None
    # False sorts first: what was named, or else what fits the sweep, or its absence.
    return min(
        candidates,
        default=None,
        key=lambda each: (each.name != gear, each.has("no_sweep") == has_sweep),
    )


def answer(book: Rulebook, trip, rig=None, gear=None, codend=None, vessel_length=None):
    """
    Return the Answer of the fishery ``book`` to ``trip``, whose day must be known.

    ``rig`` is None if it was not measured. ``gear`` names the rule set for gear to go
    by; if it is None, that goes by whether the rig has a sweep. ``codend`` and
    ``vessel_length`` in metres, if given, count before those of the rig. Raise
    ValueError if the rule set does not hold on the day.
    """
    gear_book = _gear_book(book, rig, gear, trip.day)
    return Answer(
        _judge_rig(rig, book, trip, codend, vessel_length),
        gear_book and _judge_rig(rig, gear_book, trip, codend, vessel_length),
        parts(book, trip.day, trip.position),
    )


def answers(trip, fishery=None, **rigged):
    """
    Return an Answer for each fishery, or for the one named ``fishery`` alone.

    Those with the least outside come first, then those with the least not known.
    ``rigged`` is what ``answer`` takes besides.
    """
    found = [
        answer(book, trip, **rigged)
        for book in fisheries(trip.day)
        if fishery is None or book.name == fishery
    ]
    return tuple(sorted(found, key=lambda each: (len(each.failed), len(each.unknown))))
