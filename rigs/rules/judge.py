"""
Hold a rig against a rule set, one finding a requirement.

This is the only judge there is: exercises, plans, check sheets and drawings all
ask it, so that they cannot come to differ.
"""

from collections.abc import Callable, Sequence
from datetime import date
from math import inf
from typing import Any, NamedTuple

from rigs.requirements import by_mesh, doubts
from rigs.requirements.doubt import Doubt
from rigs.requirements.readings import Between, Readings, Taken
from rigs.words import species
from rigs.words.gear import Rig
from rigs.words.places import place_text
from rigs.words.say import gettext as _
from rigs.words.say import gettext_lazy
from rigs.words.trip import Trip
from rigs.words.units import ROUNDING

from . import trip_sheet, trip_wording, wording
from .areas import Area
from .outcomes import FAIL, NOT_MEASURED, PASS
from .rulebook import FISHERY, Requirement, Rulebook, date_text
from .waters import lies_in

VESSEL = gettext_lazy("length of the vessel")
"""The spot of what was not measured where a limit turns on it."""


class Finding(NamedTuple):
    """
    What came of one requirement.

    ``measured`` is the reading nearest to breaking the limit or farthest past it,
    ``margin`` by how much it keeps the limit (negative: misses it, or keeps it thanks to
    the measuring allowance alone), both SI;
    ``spots`` the places that break it, ``missing`` those that leave it open, since nobody
    measured there. Words are made only when asked for.

    Where a part was not measured, ``measured`` is a readings.Between: a rule is broken or
    met all the same if it is, whatever the rest comes to, and ``margin`` is then by how
    much at least.
    """

    requirement: Requirement
    outcome: str
    measured: Any
    margin: float | None
    spots: tuple[Any, ...]
    missing: tuple[Any, ...] = ()

    @property
    def key(self) -> str:
        return self.requirement.key

    @property
    def title(self) -> str:
        return self.requirement.title

    @property
    def clause(self) -> str:
        return self.requirement.clause

    @property
    def basis(self) -> str:
        return self.requirement.basis

    @property
    def by_custom(self) -> bool:
        """Whether it is the trade that asks for it and no clause."""
        return self.requirement.by_custom

    @property
    def failed(self) -> bool:
        return self.outcome == FAIL

    # Its words, all of them made in ``wording``, or in ``trip_wording`` for a trip.

    @property
    def mark(self) -> str:
        """How it came out: ``met``, ``broken``, ``not measured``, or about the custom."""
        return trip_wording.mark(self) if self.requirement.of_trip else wording.mark(self)

    @property
    def places(self) -> tuple[str, ...]:
        """The places that break the rule, in words."""
        return wording.where(self)

    @property
    def missing_places(self) -> tuple[str, ...]:
        """The places where nobody measured, in words, if somebody did elsewhere."""
        if self.measured is None:
            return ()
        return tuple(place_text(spot) for spot in self.missing)

    @property
    def measured_text(self) -> str:
        """What was measured, in the unit of the deck."""
        return wording.measured(self)

    @property
    def allowed_text(self) -> str:
        """What is allowed, in few words."""
        return self.requirement.allowed_text

    @property
    def margin_text(self) -> str:
        """By how much the limit is kept or missed; empty where that cannot be said."""
        return wording.margin(self)

    @property
    def sentence(self) -> str:
        """What was found against what is asked, as whole sentences for trainees and nets."""
        if self.requirement.of_trip:
            return trip_wording.sentence(self)
        return wording.sentence(self)

    @property
    def sheet_mark(self) -> str:
        """How it came out, for an officer's sheet: ``inside``, ``outside``, and so on."""
        return trip_sheet.mark(self) if self.requirement.of_trip else wording.sheet_mark(self)

    @property
    def sheet_sentence(self) -> str:
        """What was measured against what the clause says, for an officer's sheet."""
        if self.requirement.of_trip:
            return trip_sheet.sentence(self)
        return wording.sheet_sentence(self)

    @property
    def source(self) -> str:
        """The clause, with * if its limit was written from memory; or that it is a custom."""
        return wording.source(self.requirement)

    @property
    def reading(self) -> str:
        """What the site reads into the clause, as a sentence; empty if nothing."""
        return wording.reading(self.requirement)

    @property
    def remedy(self) -> str:
        """How to fix it, in words; empty unless it is broken."""
        return wording.remedy(self)


class Verdict(NamedTuple):
    """
    Every finding on one rig under one rule set, in the rule set's order.

    What is broken, met or not measured is told of the regulation alone: a custom of
    the trade has no clause, and whoever does otherwise breaks nothing; nor can a trip
    break what a fishery as a whole is weighed by.
    """

    rulebook: Rulebook
    on: date | None
    findings: tuple[Finding, ...]
    rig: Rig | None = None

    @property
    def doubts(self) -> tuple[Doubt, ...]:
        """The Doubts about how the rig was described: what cannot be as it was told."""
        return () if self.rig is None else doubts(self.rig)

    @property
    def legal(self) -> bool | None:
        """True, False, or None where something the regulation limits was not measured."""
        told = [f.outcome for f in self.findings if f.requirement.binds]
        if FAIL in told:
            return False
        return None if NOT_MEASURED in told else True

    @property
    def regulation(self) -> tuple[Finding, ...]:
        """The findings on what a clause asks for."""
        return tuple(f for f in self.findings if f.requirement.binds)

    @property
    def failed(self) -> tuple[Finding, ...]:
        return tuple(f for f in self.findings if f.outcome == FAIL and f.requirement.binds)

    @property
    def passed(self) -> tuple[Finding, ...]:
        return tuple(f for f in self.findings if f.outcome == PASS and f.requirement.binds)

    @property
    def not_measured(self) -> tuple[Finding, ...]:
        return tuple(f for f in self.findings if f.outcome == NOT_MEASURED and f.requirement.binds)

    @property
    def failed_keys(self) -> frozenset[str]:
        return frozenset(
            f.requirement.key for f in self.findings if f.outcome == FAIL and f.requirement.binds
        )

    @property
    def warnings(self) -> tuple[Finding, ...]:
        """The findings on what the fishery is weighed by, which no vessel can break."""
        return tuple(f for f in self.findings if f.requirement.basis == FISHERY)

    @property
    def customs(self) -> tuple[Finding, ...]:
        """The findings on what is done by custom, with no clause that asks for it."""
        return tuple(f for f in self.findings if f.by_custom)

    @property
    def off_custom(self) -> tuple[Finding, ...]:
        """Those of ``customs`` that are known not to be as is the custom."""
        return tuple(f for f in self.findings if f.outcome == FAIL and f.by_custom)

    @property
    def missed_keys(self) -> frozenset[str]:
        """The keys of all that is missed, custom included: for whoever makes rigs."""
        return frozenset(f.requirement.key for f in self.findings if f.outcome == FAIL)

    def finding(self, key: str) -> Finding:
        """Return the finding on the requirement ``key``; raise KeyError if none."""
        for finding in self.findings:
            if finding.requirement.key == key:
                return finding
        raise KeyError(key)


# Each comparison takes the values, their spots and the requirement, and returns (worst
# value, margin, failing spots, spots that leave it open). Most rigs keep most limits and
# most readings were taken, so each first looks at the worst value alone: comparing it
# raises TypeError if a value is None or a Between.

Values = Sequence[Any]
Spots = Sequence[Any]
Compared = tuple[Any, float | None, Spots, Spots]


def _at_most(values: Values, spots: Spots, requirement: Requirement) -> Compared:
    try:
        worst = max(values)
        if worst <= requirement.edge:
            margin = requirement.limit - worst
            if margin < 0:
                margin = min(0.0, requirement.figure - worst)
            return worst, margin, (), ()
    except TypeError:
        return _in_part(values, spots, requirement, 1)
    edge = requirement.edge
    failing = tuple([s for v, s in zip(values, spots, strict=True) if v > edge])
    return worst, requirement.limit - worst, failing, ()


def _at_least(values: Values, spots: Spots, requirement: Requirement) -> Compared:
    try:
        worst = min(values)
        if worst >= requirement.edge:
            margin = worst - requirement.limit
            if margin < 0:
                margin = min(0.0, worst - requirement.figure)
            return worst, margin, (), ()
    except TypeError:
        return _in_part(values, spots, requirement, -1)
    edge = requirement.edge
    failing = tuple([s for v, s in zip(values, spots, strict=True) if v < edge])
    return worst, worst - requirement.limit, failing, ()


def _numbers(requirement: Requirement) -> tuple[float, float]:
    """Return figure and edge of a limit that is a number."""
    if requirement.figure is None or requirement.edge is None:
        raise TypeError(_("The limit of {key} is not a number.").format(key=requirement.key))
    return requirement.figure, requirement.edge


def _bounds(value: Any) -> tuple[float, float]:
    """Return the least and the most that ``value`` can be."""
    if value is None:
        return -inf, inf
    return value if isinstance(value, Between) else (value, value)


def _in_part(values: Values, spots: Spots, requirement: Requirement, sign: int) -> Compared:
    """
    Compare values of which some were not taken, or only in part.

    ``sign`` is 1 for an upper limit; for a lower one, -1, all is turned round. What is
    surely over the edge breaks the limit, what may be leaves it open.
    """
    figure, edge = (sign * number for number in _numbers(requirement))
    limit = sign * requirement.limit
    told = []
    for value, spot in zip(values, spots, strict=True):
        least, most = sorted(sign * bound for bound in _bounds(value))
        told.append((least, most, value, spot))
    failing = tuple(spot for least, __, __, spot in told if least > edge)
    open_ = tuple(spot for least, most, __, spot in told if least <= edge < most)
    seen = [each for each in told if each[2] is not None]
    if open_ and not failing:
        # Of a part that comes to nothing so far there is nothing to tell.
        seen = [each for each in seen if each[0] == each[1] or each[2].least > 0]
    if not seen:
        return None, None, failing, open_
    at = 0 if failing or open_ else 1
    least, most, worst, __ = max(seen, key=lambda each: (each[at], each[1]))
    if failing:
        return worst, limit - least, failing, open_
    if open_:
        return worst, limit - least if least == most else None, failing, open_
    margin = limit - most
    return worst, margin if margin > 0 else min(0.0, figure - most), (), ()


def _must_be(values: Values, spots: Spots, requirement: Requirement) -> Compared:
    open_ = ()
    if None in values:
        open_ = tuple(s for v, s in zip(values, spots, strict=True) if v is None)
    if False in values:
        failing = tuple(s for v, s in zip(values, spots, strict=True) if v is False)
        return False, None, failing, open_
    return True if True in values else None, None, (), open_


def _every(values: Values, spots: Spots, requirement: Requirement) -> Compared:
    # A full interval at the wing end is one dropper short.
    figure, edge = _numbers(requirement)
    whole = figure - ROUNDING
    open_ = ()
    if None in values:
        open_ = tuple(s for v, s in zip(values, spots, strict=True) if v is None)
        taken = [(v, s) for v, s in zip(values, spots, strict=True) if v is not None]
        if not taken:
            return None, None, (), open_
        values, spots = zip(*taken, strict=True)
    worst = max(values)
    margin = requirement.limit - worst
    if worst < whole:
        return worst, margin, (), open_
    failing = tuple(
        spot
        for value, spot in zip(values, spots, strict=True)
        if value > edge or (spot[3] and value >= whole)
    )
    if margin < 0 and not failing:
        margin = min(0.0, figure - worst)
    return worst, margin, failing, open_


def _within(values: Values, spots: Spots, requirement: Requirement) -> Compared:
    is_open = any(season.open_on(values[0]) for season in requirement.limit)
    return values[0], None, () if is_open else spots, ()


def _inside(values: Values, spots: Spots, areas: tuple[Area, ...]) -> Compared:
    # ``areas`` are those open on the day: where none is, it does not turn on the place.
    (position,) = values
    if not areas:
        return None, None, (_("no area is open that day"),), ()
    if position is None:
        return None, None, (), spots
    answers = [lies_in(position, area) for area in areas]
    if True in answers:
        return position, None, (), ()
    return (position, None, (), spots) if None in answers else (position, None, spots, ())


def _outside(values: Values, spots: Spots, requirement: Requirement) -> Compared:
    (position,) = values
    answers = [(lies_in(position, area), area.title) for area in requirement.limit]
    failing = tuple(title for inside, title in answers if inside)
    return position, None, failing, spots if any(inside is None for inside, __ in answers) else ()


def _only(values: Values, spots: Spots, requirement: Requirement) -> Compared:
    found = species.sort_out(values, requirement.limit)
    return tuple(values), None, found.unlisted, (*found.unclear, *found.unknown)


def _by_mesh(values: Values, spots: Spots, requirement: Requirement) -> Compared:
    (load,) = values
    edges = [row.edge + requirement.slack for row in by_mesh.possible(requirement.limit, load)]
    failing = spots if load.weight > max(edges) else ()
    return load, None, failing, spots if load.weight > min(edges) else ()


def _less_than(values: Values, spots: Spots, requirement: Requirement) -> Compared:
    limit = requirement.limit
    return values[0], limit - values[0], spots if values[0] >= limit else (), ()


_COMPARE: dict[str, Callable[[Values, Spots, Any], Compared]] = {
    "at most": _at_most,
    "at least": _at_least,
    "more than": _at_least,
    "must be": _must_be,
    "every": _every,
    "within": _within,
    "inside": _inside,
    "outside": _outside,
    "by mesh": _by_mesh,
    "only": _only,
    "less than": _less_than,
}


def judge(
    rig: Rig | None, rulebook: Rulebook, on: date | None = None, trip: Trip | None = None
) -> Verdict:
    """
    Return the Verdict on ``rig``, and on ``trip`` if one is given, under ``rulebook``.

    ``on`` is the date to judge for: limits not in force on it are left out. Rules
    about a trip are left out without one, and rules about gear if ``rig`` is None.
    Raise ValueError if the whole rule set does not hold on that day.
    """
    _refuse_another_day(rulebook, on)
    findings = []
    for requirement in rulebook.requirements:
        subject = trip if requirement.of_trip else rig
        if subject is None or (requirement.bounded and not requirement.applies_to(rig, on)):
            continue
        areas = None
        readings = requirement.read(subject)
        if readings is not None and requirement.test == "inside" and trip and trip.day:
            areas = rulebook.open_areas(trip.day)
        findings.append(_finding(requirement, readings, areas))
    if rulebook.by_vessel and rig is not None and rig.vessel_length is None:
        findings = _whatever_the_vessel(findings)
    return Verdict(rulebook, on, tuple(findings), rig)


def judge_taken(taken: Taken, rulebook: Rulebook, on: date | None = None) -> Verdict:
    """
    Return the Verdict on readings taken one by one, a readings.Taken, under ``rulebook``.

    Rules about a trip are left out; a requirement without readings is not measured.
    ``on`` and ValueError are as for ``judge``.
    """
    _refuse_another_day(rulebook, on)
    findings = [
        _finding(requirement, taken.readings.get(requirement.key))
        for requirement in rulebook.requirements
        if not requirement.of_trip and requirement.applies_to(taken, on)
    ]
    if taken.vessel_length is None:
        findings = _whatever_the_vessel(findings)
    return Verdict(rulebook, on, tuple(findings))


def _refuse_another_day(rulebook: Rulebook, on: date | None) -> None:
    if on is not None and not rulebook.holds_on(on):
        raise ValueError(
            _("The rule set “{title}” has no version for {date_text}.").format(
                title=rulebook.title, date_text=date_text(on)
            )
        )


def _whatever_the_vessel(findings: list[Finding]) -> list[Finding]:
    """
    Return ``findings`` on a rig whose vessel's length nobody noted.

    Of limits that turn on it just one binds, nobody knows which. So one of them is met if
    it would be met did it bind; broken is only what breaks them all, and that is told
    once, of the limit that asks the least.
    """
    told = []
    for finding in findings:
        if finding.requirement.by_vessel and finding.failed:
            others = [f for f in findings if _is_other_way(finding.requirement, f.requirement)]
            if not others or not all(other.failed for other in others):
                finding = finding._replace(
                    outcome=NOT_MEASURED, margin=None, spots=(), missing=(VESSEL,)
                )
            elif any((other.margin or 0.0) > (finding.margin or 0.0) for other in others):
                continue
        told.append(finding)
    return told


def _is_other_way(one: Requirement, other: Requirement) -> bool:
    """Return whether ``other`` limits the same for those vessels that ``one`` leaves out."""
    if one.vessel_edge is None or other.vessel_edge is None:
        return False
    over = one.vessel_over is not None
    return (
        other.measure.reading_of == one.measure.reading_of
        and (other.vessel_over is not None) is not over
        and (other.vessel_edge >= one.vessel_edge if over else other.vessel_edge <= one.vessel_edge)
    )


_new = tuple.__new__


def _finding(
    requirement: Requirement, readings: Readings | None, areas: tuple[Area, ...] | None = None
) -> Finding:
    """
    Return the Finding on ``requirement`` from what its measure returned.

    ``areas`` are those open on the day, for a requirement to be inside one.
    """
    if readings is None:
        return Finding(requirement, NOT_MEASURED, None, None, ())
    values, spots = readings
    if not values:
        outcome = FAIL if requirement.measure.missing_fails else PASS
        return Finding(requirement, outcome, None, None, ())
    compare = _COMPARE[requirement.test]
    worst, margin, failing, missing = compare(
        values, spots, requirement if areas is None else areas
    )
    outcome = FAIL if failing else NOT_MEASURED if missing else PASS
    # As Finding(...) would, but quicker: it is made for every rule of every rig.
    return _new(Finding, (requirement, outcome, worst, margin, failing, missing))
