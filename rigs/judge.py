"""
Hold a rig against a rule set, one finding a requirement.

This is the only judge there is: exercises, plans, check sheets and drawings all
ask it, so that they cannot come to differ.
"""

from collections.abc import Callable
from datetime import date
from typing import NamedTuple

from . import by_mesh, species, trip_wording, wording
from .measures import MEASURES
from .outcomes import FAIL, NOT_MEASURED, PASS
from .rulebook import FISHERY, ROUNDING, Requirement, Rulebook
from .waters import lies_in


class Finding(NamedTuple):
    """
    What came of one requirement.

    ``measured`` is the reading nearest to breaking the limit or farthest past it,
    ``margin`` by how much it keeps the limit (negative: misses it), both SI;
    ``spots`` the places that break it. Words are made only when asked for.
    """

    requirement: Requirement
    outcome: str
    measured: object
    margin: float | None
    spots: tuple

    @property
    def key(self):
        return self.requirement.key

    @property
    def title(self):
        return self.requirement.title

    @property
    def clause(self):
        return self.requirement.clause

    @property
    def basis(self):
        return self.requirement.basis

    @property
    def by_custom(self):
        """Whether it is the trade that asks for it and no clause."""
        return self.requirement.by_custom

    @property
    def failed(self):
        return self.outcome == FAIL

    # Its words, all of them made in ``wording``, or in ``trip_wording`` for a trip.

    @property
    def mark(self):
        """How it came out: ``met``, ``broken``, ``not measured``, or about the custom."""
        return (trip_wording if self.requirement.of_trip else wording).mark(self)

    @property
    def places(self):
        """The places that break the rule, in words."""
        return wording.where(self)

    @property
    def measured_text(self):
        """What was measured, in the unit of the deck."""
        return wording.measured(self)

    @property
    def allowed_text(self):
        """What is allowed, in few words."""
        return self.requirement.allowed_text

    @property
    def margin_text(self):
        """By how much the limit is kept or missed; empty where that cannot be said."""
        return wording.margin(self)

    @property
    def sentence(self):
        """What was found against what is asked, as whole sentences for trainees and nets."""
        return (trip_wording if self.requirement.of_trip else wording).sentence(self)

    @property
    def sheet_mark(self):
        """How it came out, for an officer's sheet: ``inside``, ``outside``, and so on."""
        return wording.sheet_mark(self)

    @property
    def sheet_sentence(self):
        """What was measured against what the clause says, for an officer's sheet."""
        return wording.sheet_sentence(self)

    @property
    def source(self):
        """The clause, with * if its limit was written from memory; or that it is a custom."""
        return wording.source(self.requirement)

    @property
    def reading(self):
        """What the site reads into the clause, as a sentence; empty if nothing."""
        return wording.reading(self.requirement)

    @property
    def remedy(self):
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

    @property
    def legal(self):
        """True, False, or None where something the regulation limits was not measured."""
        told = [f.outcome for f in self.findings if f.requirement.binds]
        if FAIL in told:
            return False
        return None if NOT_MEASURED in told else True

    @property
    def regulation(self):
        """The findings on what a clause asks for."""
        return tuple(f for f in self.findings if f.requirement.binds)

    @property
    def failed(self):
        return tuple(f for f in self.findings if f.outcome == FAIL and f.requirement.binds)

    @property
    def passed(self):
        return tuple(f for f in self.findings if f.outcome == PASS and f.requirement.binds)

    @property
    def not_measured(self):
        return tuple(f for f in self.findings if f.outcome == NOT_MEASURED and f.requirement.binds)

    @property
    def failed_keys(self):
        return frozenset(
            f.requirement.key for f in self.findings if f.outcome == FAIL and f.requirement.binds
        )

    @property
    def warnings(self):
        """The findings on what the fishery is weighed by, which no vessel can break."""
        return tuple(f for f in self.findings if f.requirement.basis == FISHERY)

    @property
    def customs(self):
        """The findings on what is done by custom, with no clause that asks for it."""
        return tuple(f for f in self.findings if f.by_custom)

    @property
    def off_custom(self):
        """Those of ``customs`` that are known not to be as is the custom."""
        return tuple(f for f in self.findings if f.outcome == FAIL and f.by_custom)

    @property
    def missed_keys(self):
        """The keys of all that is missed, custom included: for whoever makes rigs."""
        return frozenset(f.requirement.key for f in self.findings if f.outcome == FAIL)

    def finding(self, key):
        """Return the finding on the requirement ``key``; raise KeyError if none."""
        for finding in self.findings:
            if finding.requirement.key == key:
                return finding
        raise KeyError(key)


# Each comparison takes the values, their spots, the limit and the slack, and returns
# (worst value, margin, failing spots, whether a value is missing). Most rigs keep most
# limits, so each first looks at the worst value alone.


def _known(values, spots):
    """Return the pairs whose value was taken."""
    return [(v, s) for v, s in zip(values, spots, strict=True) if v is not None]


def _at_most(values, spots, limit, slack):
    edge = limit + slack
    if None in values:
        taken = _known(values, spots)
        if not taken:
            return None, None, (), True
        worst = max(value for value, _ in taken)
        return worst, limit - worst, tuple(s for v, s in taken if v > edge), True
    worst = max(values)
    if worst <= edge:
        return worst, limit - worst, (), False
    failing = tuple(s for v, s in zip(values, spots, strict=True) if v > edge)
    return worst, limit - worst, failing, False


def _at_least(values, spots, limit, slack):
    edge = limit - slack
    if None in values:
        taken = _known(values, spots)
        if not taken:
            return None, None, (), True
        worst = min(value for value, _ in taken)
        return worst, worst - limit, tuple(s for v, s in taken if v < edge), True
    worst = min(values)
    if worst >= edge:
        return worst, worst - limit, (), False
    failing = tuple(s for v, s in zip(values, spots, strict=True) if v < edge)
    return worst, worst - limit, failing, False


def _more_than(values, spots, limit, slack):
    # The allowance works in favour of the measured rig, rounding never does: a
    # footrope no longer than the headrope is not longer.
    worst, margin, _, missing = _at_least(values, spots, limit, slack)
    edge = limit + 2 * ROUNDING - slack
    return worst, margin, tuple(s for v, s in _known(values, spots) if v < edge), missing


def _must_be(values, spots, limit, slack):
    if False in values:
        failing = tuple(s for v, s in zip(values, spots, strict=True) if v is False)
        return False, None, failing, None in values
    return True if True in values else None, None, (), None in values


def _every(values, spots, limit, slack):
    if None in values:
        taken = _known(values, spots)
        if not taken:
            return None, None, (), True
        return *_every(*zip(*taken, strict=True), limit, slack)[:3], True
    worst = max(values)
    short = limit - ROUNDING  # a full interval at the wing end is one dropper short
    if worst < short:
        return worst, limit - worst, (), False
    edge = limit + slack
    failing = tuple(
        spot
        for value, spot in zip(values, spots, strict=True)
        if value > edge or (spot[3] and value >= short)
    )
    return worst, limit - worst, failing, False


def _within(values, spots, limit, slack):
    is_open = any(season.open_on(values[0]) for season in limit)
    return values[0], None, () if is_open else spots, False


def _inside(values, spots, limit, slack):
    # ``limit`` are the areas open on the day: where none is, it does not turn on the place.
    (position,) = values
    if not limit:
        return None, None, ("no area is open that day",), False
    if position is None:
        return None, None, (), True
    answers = [lies_in(position, area) for area in limit]
    if True in answers:
        return position, None, (), False
    return position, None, () if None in answers else spots, None in answers


def _outside(values, spots, limit, slack):
    (position,) = values
    answers = [(lies_in(position, area), area.title) for area in limit]
    failing = tuple(title for inside, title in answers if inside)
    return position, None, failing, any(inside is None for inside, _ in answers)


def _only(values, spots, limit, slack):
    found = species.sort_out(values, limit)
    return tuple(values), None, found.unlisted, bool(found.unclear or found.unknown)


def _by_mesh(values, spots, limit, slack):
    (load,) = values
    edges = [row.edge + slack for row in by_mesh.possible(limit, load)]
    return load, None, spots if load.weight > max(edges) else (), load.weight > min(edges)


def _less_than(values, spots, limit, slack):
    return values[0], limit - values[0], spots if values[0] >= limit else (), False


_COMPARE: dict[str, Callable] = {
    "at most": _at_most,
    "at least": _at_least,
    "more than": _more_than,
    "must be": _must_be,
    "every": _every,
    "within": _within,
    "inside": _inside,
    "outside": _outside,
    "by mesh": _by_mesh,
    "only": _only,
    "less than": _less_than,
}


def judge(rig, rulebook, on=None, trip=None):
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
        readings = requirement.read(subject)
        if requirement.test == "inside" and readings is not None:
            findings.append(_finding(requirement, readings, rulebook.open_areas(trip.day)))
        else:
            findings.append(_finding(requirement, readings, requirement.limit))
    return Verdict(rulebook, on, tuple(findings))


def judge_taken(taken, rulebook, on=None):
    """
    Return the Verdict on readings taken one by one, a measures.Taken, under ``rulebook``.

    Rules about a trip are left out; a requirement without readings is not measured.
    ``on`` and ValueError are as for ``judge``.
    """
    _refuse_another_day(rulebook, on)
    return Verdict(
        rulebook,
        on,
        tuple(
            _finding(requirement, taken.readings.get(requirement.key), requirement.limit)
            for requirement in rulebook.requirements
            if not requirement.of_trip and requirement.applies_to(taken, on)
        ),
    )


def _refuse_another_day(rulebook, on):
    if on is not None and not rulebook.holds_on(on):
        raise ValueError(f"The rule set “{rulebook.title}” does not hold on {on.isoformat()}.")


def _finding(requirement, readings, limit):
    """
    Return the Finding on ``requirement`` from what its measure returned.

    ``limit`` is the requirement's; of areas it is those that are open on the day.
    """
    if readings is None:
        return Finding(requirement, NOT_MEASURED, None, None, ())
    values, spots = readings
    if not values:
        outcome = FAIL if MEASURES[requirement.key].missing_fails else PASS
        return Finding(requirement, outcome, None, None, ())
    worst, margin, failing, missing = _COMPARE[requirement.test](
        values, spots, limit, requirement.slack
    )
    outcome = FAIL if failing else NOT_MEASURED if missing else PASS
    return Finding(requirement, outcome, worst, margin, failing)
