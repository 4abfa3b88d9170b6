"""
May this vessel fish here, on this day, with this gear?

One answer a fishery: its own rules (season, area, letter, mesh, catch) and those for
the gear that it takes over, all judged by ``judge``. An answer says what is inside and
outside the clauses and what is not known; what follows from it in law it does not say.
"""

from typing import NamedTuple

from . import rulebook as rulebooks
from .gear import Footrope, Headrope, Rig
from .judge import NOT_MEASURED, Finding, Verdict, judge
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
    def failed(self):
        """Findings outside what their clause allows."""
        return tuple(finding for verdict in self.verdicts for finding in verdict.failed)

    @property
    def unknown(self):
        """Findings on what is not known or not measured."""
        return tuple(finding for verdict in self.verdicts for finding in verdict.not_measured)

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
    Return the Rulebooks with an area and a season, in force on the date ``on``.

    The latest of each if ``on`` is None. Raise RulebookError if one has no version that
    holds on that day.
    """
    named = [name for name in rulebooks.names() if rulebooks.load(name).has("area")]
    return tuple(
        rulebooks.load(name) if on is None else rulebooks.in_force(name, on) for name in named
    )


def gear_books(on=None):
    """Return the Rulebooks for gear that some fishery takes over, as ``fisheries`` does."""
    named = dict.fromkeys(name for book in fisheries(on) for name in book.gear)
    return tuple(
        rulebooks.load(name) if on is None else rulebooks.in_force(name, on) for name in named
    )


def species():
    """Return the names of all animals that some fishery says may be kept."""
    limits = [
        book.requirement("kept_species").limit for book in fisheries() if book.has("kept_species")
    ]
    return tuple(dict.fromkeys(name for limit in limits for name in limit))


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
    if not book.gear:
        return None
    if gear in book.gear:
        return rulebooks.in_force(gear, on)
    candidates = [rulebooks.in_force(name, on) for name in book.gear]
    has_sweep = rig is not None and rig.sweep is not None
    return next((each for each in candidates if each.has("no_sweep") != has_sweep), candidates[0])


def answer(book: Rulebook, trip, rig=None, gear=None, codend=None, vessel_length=None):
    """
    Return the Answer of the fishery ``book`` to ``trip``, whose day must be known.

    ``rig`` is None if it was not measured. ``gear`` names the rule set for gear to go
    by; if it is None, that goes by whether the rig has a sweep. ``codend`` and
    ``vessel_length`` in metres, if given, count before those of the rig. Raise
    RulebookError if a rule set has no version that holds on the day.
    """
    gear_book = _gear_book(book, rig, gear, trip.day)
    in_season = any(season.open_on(trip.day) for season in book.requirement("season").limit)
    parts = tuple(
        Part(
            area,
            in_season and (area.season is None or area.season.open_on(trip.day)),
            None if trip.position is None else standing(trip.position, area),
        )
        for area in book.requirement("area").limit
    )
    return Answer(
        _judge_rig(rig, book, trip, codend, vessel_length),
        gear_book and _judge_rig(rig, gear_book, trip, codend, vessel_length),
        parts,
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
