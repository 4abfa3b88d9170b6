"""
Hold a rig against a rule set, one finding a requirement.

This is the only judge there is: exercises, plans, check sheets and drawings all
ask it, so that they cannot come to differ.
"""

from collections.abc import Callable
from datetime import date
from typing import NamedTuple

from .measures import MEASURES
from .places import place_text
from .rulebook import REGULATION, ROUNDING, Requirement, Rulebook
from .waters import lies_in

PASS = "pass"
FAIL = "fail"
NOT_MEASURED = "not measured"


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
    def failed(self):
        return self.outcome == FAIL

    @property
    def places(self):
        """The places that break the rule, in words."""
        return tuple(place_text(spot) for spot in self.spots)

    @property
    def measured_text(self):
        """What was measured, in the unit of the deck."""
        if self.outcome == NOT_MEASURED and (self.measured is None or self.margin is None):
            return "not measured"
        if self.measured is None:
            return "none there"
        if self._hides_the_miss():
            return f"{self.requirement.say(self.measured)} and a hair"
        return self.requirement.say(self.measured)

    @property
    def allowed_text(self):
        return self.requirement.allowed_text

    @property
    def margin_text(self):
        """By how much the rule is kept or missed, in words; empty for yes-or-no rules."""
        if self.margin is None or isinstance(self.measured, bool):
            return ""
        size = abs(self.margin)
        if size <= self.requirement.slack:
            return "nothing to spare" if self.outcome == PASS else "one short"
        amount = self.requirement.say(size)
        if amount == self.requirement.say(0 * size):
            amount = "a hair"
        return f"{amount} to spare" if self.outcome == PASS else f"misses by {amount}"

    @property
    def remedy(self):
        """How to mend it, in words; empty unless the rule is broken."""
        if self.outcome != FAIL:
            return ""
        return self.requirement.remedy_text.format(allowed=self.requirement.limit_text)

    def _hides_the_miss(self):
        """Whether the reading, rounded for printing, looks as if it kept the limit."""
        return (
            self.outcome == FAIL
            and self.margin is not None
            and abs(self.margin) > ROUNDING
            and self.requirement.say(self.measured) == self.requirement.limit_text
        )


class Verdict(NamedTuple):
    """Every finding on one rig under one rule set, in the rule set's order."""

    rulebook: Rulebook
    on: date | None
    findings: tuple[Finding, ...]

    @property
    def legal(self):
        """
        True, False, or None where something the regulation limits was not measured.

        Practice without a clause in the regulation does not make a rig illegal.
        """
        told = [f.outcome for f in self.findings if f.requirement.basis == REGULATION]
        if FAIL in told:
            return False
        return None if NOT_MEASURED in told else True

    @property
    def failed(self):
        return tuple(f for f in self.findings if f.outcome == FAIL)

    @property
    def passed(self):
        return tuple(f for f in self.findings if f.outcome == PASS)

    @property
    def not_measured(self):
        return tuple(f for f in self.findings if f.outcome == NOT_MEASURED)

    @property
    def failed_keys(self):
        return frozenset(f.requirement.key for f in self.findings if f.outcome == FAIL)

    def finding(self, key):
        """Return the finding on the requirement ``key``; raise KeyError if none."""
        for finding in self.findings:
            if finding.requirement.key == key:
                return finding
        raise KeyError(key)


# Each comparison takes the readings, the limit and the slack, and returns
# (worst value, margin, failing places, whether a reading is missing).


def _at_most(readings, limit, slack):
    edge = limit + slack
    worst = None
    spots = ()
    missing = False
    for value, place in readings:
        if value is None:
            missing = True
            continue
        if worst is None or value > worst:
            worst = value
        if value > edge:
            spots += (place,)
    return worst, None if worst is None else limit - worst, spots, missing


def _at_least(readings, limit, slack):
    edge = limit - slack
    worst = None
    spots = ()
    missing = False
    for value, place in readings:
        if value is None:
            missing = True
            continue
        if worst is None or value < worst:
            worst = value
        if value < edge:
            spots += (place,)
    return worst, None if worst is None else worst - limit, spots, missing


def _more_than(readings, limit, slack):
    # The allowance works in favour of the measured rig, rounding never does: a
    # footrope no longer than the headrope is not longer.
    edge = limit + 2 * ROUNDING - slack
    worst, margin, _, missing = _at_least(readings, limit, slack)
    spots = tuple(place for value, place in readings if value is not None and value < edge)
    return worst, margin, spots, missing


def _must_be(readings, limit, slack):
    spots = ()
    missing = False
    for value, place in readings:
        if value is None:
            missing = True
        elif value is not limit:
            spots += (place,)
    if spots:
        return False, None, spots, missing
    return True, None, spots, missing


def _every(readings, limit, slack):
    edge = limit + slack
    short = limit - ROUNDING  # a full interval at the wing end is one dropper short
    worst = 0.0
    spots = ()
    for value, place, at_end in readings:
        if value > worst:
            worst = value
        if value > edge or (at_end and short <= value):
            spots += (place,)
    return worst, limit - worst, spots, False


def _within(readings, limit, slack):
    spots = tuple(
        place for day, place in readings if not any(season.open_on(day) for season in limit)
    )
    return readings[0][0], None, spots, False


def _inside(readings, limit, slack):
    trip, place = readings[0]
    open_now = [area for area in limit if area.season is None or area.season.open_on(trip.day)]
    answers = [lies_in(trip.position, area) for area in open_now or limit]
    if True in answers:
        return trip.position, None, (), False
    if None in answers:
        return trip.position, None, (), True
    return trip.position, None, (place,), False


def _only(readings, limit, slack):
    spots = tuple(place for name, place in readings if name.lower() not in limit)
    return ", ".join(name for name, _ in readings), None, spots, False


def _less_than(readings, limit, slack):
    value, place = readings[0]
    return value, limit - value, (place,) if value >= limit else (), False


_COMPARE: dict[str, Callable] = {
    "at most": _at_most,
    "at least": _at_least,
    "more than": _more_than,
    "must be": _must_be,
    "every": _every,
    "within": _within,
    "inside": _inside,
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
    if on is not None and not rulebook.holds_on(on):
        raise ValueError(f"The rule set “{rulebook.title}” does not hold on {on.isoformat()}.")
    findings = []
    for requirement in rulebook.requirements:
        subject = trip if requirement.of_trip else rig
        if subject is None or (requirement.bounded and not requirement.applies_to(rig, on)):
            continue
        readings = requirement.read(subject)
        if readings is None:
            findings.append(Finding(requirement, NOT_MEASURED, None, None, ()))
            continue
        if not readings:
            outcome = FAIL if MEASURES[requirement.key].missing_fails else PASS
            findings.append(Finding(requirement, outcome, None, None, ()))
            continue
        worst, margin, spots, missing = _COMPARE[requirement.test](
            readings, requirement.limit, requirement.slack
        )
        if spots:
            outcome = FAIL
        elif missing:
            outcome = NOT_MEASURED
        else:
            outcome = PASS
        findings.append(Finding(requirement, outcome, worst, margin, spots))
    return Verdict(rulebook, on, tuple(findings))
