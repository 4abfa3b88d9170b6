"""A sheet judged, and what a phone out of reach of the site needs to judge it alike."""

from collections.abc import Collection, Mapping, Sequence
from datetime import date
from typing import Any, NamedTuple

from rigs import requirements
from rigs.physics import chain
from rigs.requirements.codend import VESSEL_LENGTH
from rigs.requirements.questions import TELLERS, TOOLS, WHY_NOT, Answer
from rigs.requirements.readings import Taken
from rigs.rules.judge import VESSEL, Finding, Verdict, judge_taken
from rigs.rules.outcomes import CUSTOM_MARKS, SHEET_MARKS
from rigs.rules.rulebook import ROUNDING, Requirement, Rulebook
from rigs.rules.wording import IN_PART, LITTLE, is_from_memory, sheet_sentences, signed, source
from rigs.words import guards, mesh, units
from rigs.words.places import place_text
from rigs.words.say import gettext as _

from . import trip_data
from .odds import AGREE
from .steps import QUESTIONS, asked, goes_with, judged_by, steps
from .told import called, rests_on

Answers = Mapping[str, Answer]
"""What was written down, SI by question's name."""


def _as_read(told: Answer) -> Answer:
    """Return an answer as ``entry`` reads it: lengths that were stored are a list."""
    if not isinstance(told, list) or not all(isinstance(each, (int, float)) for each in told):
        return told
    return tuple(map(float, told))


def taken(answers: Answers) -> Taken:
    """Return the Taken of what was written down; lengths that were listed may be a list."""
    answers = {name: _as_read(told) for name, told in answers.items()}
    readings = {
        measure.key: measure.sheet.read(answers)
        for measure in requirements.all()
        if measure.sheet and not measure.trip
    }
    length = answers.get(VESSEL_LENGTH.name)
    return Taken(readings, length if isinstance(length, (int, float)) else None)


def judged(answers: Answers, rulebook: Rulebook, on: date | None = None) -> Verdict:
    """Return the judge.Verdict on what was written down, on the date ``on``."""
    return judge_taken(taken(answers), rulebook, on)


class Tally(NamedTuple):
    """
    How many clauses the measures lie outside of, inside, and how many were not measured.

    ``told`` of those outside and inside rest on what somebody said. What is done by custom
    has no clause and is not counted.
    """

    outside: int
    within: int
    not_measured: int
    told: int = 0

    def __str__(self) -> str:
        words = _("{outside} outside, {within} inside, {not_measured} not measured").format(
            outside=self.outside, within=self.within, not_measured=self.not_measured
        )
        if not self.told:
            return words
        return _("{words}; {told} by what somebody said").format(words=words, told=self.told)


def tally_of(
    failed: Sequence[Finding],
    passed: Sequence[Finding],
    not_measured: Sequence[Finding],
    told: Collection[str] = frozenset(),
) -> Tally:
    """Return the Tally of findings; ``told`` names the questions that were told."""
    resting = sum(bool(rests_on(finding, told)) for finding in (*failed, *passed))
    return Tally(len(failed), len(passed), len(not_measured), resting)


def tally(verdict: Verdict, told: Collection[str] = frozenset()) -> Tally:
    """Return the Tally of ``verdict``; ``told`` names the questions that were told."""
    return tally_of(verdict.failed, verdict.passed, verdict.not_measured, told)


def so_far(key: str, told: Mapping[str, str]) -> str:
    """
    Return what the rows too short to count come to, of those that ``key`` is judged by.

    ``told`` are the words on them, by question's name, as ``entry.read`` has them.
    """
    sheet = requirements.find(key).sheet
    names = sheet.names if sheet else ()
    return " ".join(words for name, words in told.items() if name in names)


# What goes to the phone ------------------------------------------------------


def _requirement(requirement: Requirement) -> dict[str, Any]:
    of_its_sort = trip_data.requirement_data if requirement.of_trip else _gear_requirement
    return {
        "key": requirement.key,
        "title": requirement.title,
        "test": requirement.test,
        "limit": requirement.limit,
        "unit": requirement.unit,
        "figure": requirement.figure,
        "edge": requirement.edge,
        "limit_text": requirement.limit_text,
        "source": source(requirement),
        "is_from_memory": is_from_memory(requirement),
        "from": _iso(requirement.effective_from),
        "to": _iso(requirement.effective_to),
        "by_custom": requirement.by_custom,
        "names": sorted(requirement.measure.asked.names),
    } | of_its_sort(requirement)


def _gear_requirement(requirement: Requirement) -> dict[str, Any]:
    measure, sheet = requirement.measure, requirement.measure.asked
    return {
        "slack": requirement.slack,
        "measure": measure.reading_of,
        "missing_fails": measure.missing_fails,
        "vessel_over": requirement.vessel_over and requirement.vessel_edge,
        "vessel_up_to": requirement.vessel_up_to and requirement.vessel_edge,
        "sentences": sheet_sentences(requirement),
        "signed": signed(requirement),
        "absent": sheet.absent.name if sheet.absent else "",
        "values": [
            {
                "spot": place_text(each.spot),
                "last": isinstance(each.spot, tuple) and each.spot[-1] is True,
                "terms": [(factor, question.name) for factor, question in each.terms],
                "size": each.size,
                "each": each.each,
                "denied": each.denied,
            }
            for each in sheet.totals
        ],
    }


def _iso(day: date | None) -> str | None:
    return None if day is None else day.isoformat()


def for_the_phone(rulebook: Rulebook) -> dict[str, Any]:
    """
    Return ``rulebook`` as plain data for a script.

    With it come the steps for its gear, each with the names of its questions and the keys of
    the requirements that it bears on; what it asks of a trip is ``trip``. ``order`` are the
    keys of both in its order. ``goes_with`` are the names of the rule sets for the gear that
    it is fished with if it is a fishery's.
    """
    return {
        "name": rulebook.name,
        "version": rulebook.version,
        "title": rulebook.title,
        "citation": rulebook.citation,
        "from": _iso(rulebook.effective_from),
        "to": _iso(rulebook.effective_to),
        "is_fishery": rulebook.has("area"),
        "goes_with": goes_with(rulebook) if rulebook.has("area") else (),
        "order": [each.key for each in rulebook.requirements],
        "requirements": [_requirement(each) for each in asked(rulebook)],
        "trip": [_requirement(each) for each in rulebook.requirements if each.of_trip],
        "steps": [
            {
                "slug": step.slug,
                "title": step.title,
                "questions": [question.name for question in step.questions],
                "judges": judged_by(step, rulebook),
            }
            for step in steps(rulebook)
        ],
    }


def reading_rules() -> dict[str, Any]:
    """Return what a script needs to read entries as ``entry`` does and to print lengths."""
    return {
        "questions": {
            name: {
                "sort": each.sort,
                "label": each.label,
                "called": called(each),
                "bare": each.bare,
                "chain": each.chain,
                "several": each.several,
                "part_of": each.part_of,
                "tools": each.tools,
                "hows": each.hows,
                "usual": each.usual,
                "sure": each.sure,
            }
            for name, each in QUESTIONS.items()
        },
        "units": units.exact_lengths(),
        "unit_names": units.length_names(),
        "pitches": [
            [size, stock.pitch]
            for stock in chain.STOCKS.values()
            for size in (stock.size, stock.wire)
        ],
        "stock_tolerance": chain.TOLERANCE,
        "agree": AGREE,
        "tools": {**TOOLS, **TELLERS},
        "tellers": TELLERS,
        "why_not": WHY_NOT,
        "usual": {
            sort: {
                "least": each.least,
                "most": each.most,
                "fewer": each.fewer,
                "more": each.more,
                "unit": each.unit,
            }
            for sort, each in guards.USUAL.items()
        },
        "longest": guards.LONGEST,
        "most_links": guards.MOST_PIECES,
        "most_meshes": guards.MOST_MESHES,
        "series": mesh.SERIES,
        "rounding": ROUNDING,
        "little": LITTLE,
        "in_part": IN_PART,
        "vessel": VESSEL,
        "custom_marks": {SHEET_MARKS[outcome]: text for outcome, text in CUSTOM_MARKS.items()},
        "trip": trip_data.rules(),
    } | units.reading_rules()
