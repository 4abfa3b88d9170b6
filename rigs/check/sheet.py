"""A sheet judged, and what a phone out of reach of the site needs to judge it alike."""

from math import inf
from typing import NamedTuple

from rigs.physics import chain
from rigs.requirements.measures import MEASURES, NOTHING, Between, Taken
from rigs.rules.judge import VESSEL, judge_taken
from rigs.rules.outcomes import CUSTOM_MARKS, SHEET_MARKS
from rigs.rules.rulebook import ROUNDING
from rigs.rules.wording import IN_PART, LITTLE, is_from_memory, sheet_sentences, signed, source
from rigs.words import guards, mesh, units
from rigs.words.places import place_text

from .steps import QUESTIONS, READINGS, asked, judged_by, steps


def _value(value, measures):
    """
    Return a Value's sum, a Between if an answer to it is missing, None if all are.

    What was not measured is a length of nothing or more.
    """
    told = [measures.get(name) for name in value.names]
    if all(each is None for each in told):
        return None
    if isinstance(told[0], bool):
        return not told[0] if value.denied else told[0]
    least = most = 0.0
    for (factor, _), each in zip(value.terms, told, strict=True):
        if each is not None:
            least += factor * each
            most += factor * each
        elif factor > 0:
            most = inf
        else:
            least = -inf
    if least == most:
        return abs(least) if value.size else least
    # Without its sign, a sum that is open to one side may be anything.
    return None if value.size or (least, most) == (-inf, inf) else Between(least, most)


def _readings(reading, measures):
    if reading.absent and measures.get(reading.absent) is False:
        return NOTHING
    return [_value(each, measures) for each in reading.values], [
        each.spot for each in reading.values
    ]


def taken(measures):
    """Return the measures.Taken of what was written down, SI by question's name."""
    return Taken(
        {key: _readings(reading, measures) for key, reading in READINGS.items()},
        measures.get("vessel_length"),
    )


def judged(measures, rulebook, on=None):
    """Return the judge.Verdict on what was written down, on the date ``on``."""
    return judge_taken(taken(measures), rulebook, on)


class Tally(NamedTuple):
    """
    How many clauses the measures lie outside of, inside, and how many were not measured.

    What is done by custom has no clause and is not counted.
    """

    outside: int
    within: int
    not_measured: int

    def __str__(self):
        return f"{self.outside} outside, {self.within} inside, {self.not_measured} not measured"


def tally(verdict):
    """Return the Tally of ``verdict``."""
    return Tally(len(verdict.failed), len(verdict.passed), len(verdict.not_measured))


def so_far(key, told):
    """
    Return what the rows too short to count come to, of those that ``key`` is judged by.

    ``told`` are the words on them, by question's name, as ``entry.read`` has them.
    """
    names = READINGS[key].names if key in READINGS else ()
    return " ".join(words for name, words in told.items() if name in names)


# What goes to the phone ------------------------------------------------------


def _requirement(requirement, reading):
    return {
        "key": requirement.key,
        "title": requirement.title,
        "test": requirement.test,
        "limit": requirement.limit,
        "unit": requirement.unit,
        "slack": requirement.slack,
        "figure": requirement.figure,
        "edge": requirement.edge,
        "measure": MEASURES[requirement.key].reading_of,
        "limit_text": requirement.limit_text,
        "source": source(requirement),
        "is_from_memory": is_from_memory(requirement),
        "missing_fails": MEASURES[requirement.key].missing_fails,
        "from": _iso(requirement.effective_from),
        "to": _iso(requirement.effective_to),
        "vessel_over": requirement.vessel_over and requirement.vessel_edge,
        "vessel_up_to": requirement.vessel_up_to and requirement.vessel_edge,
        "by_custom": requirement.by_custom,
        "sentences": sheet_sentences(requirement),
        "signed": signed(requirement),
        "names": sorted(reading.names),
        "absent": reading.absent,
        "values": [
            {
                "spot": place_text(each.spot),
                "last": isinstance(each.spot, tuple) and each.spot[3],
                "terms": each.terms,
                "size": each.size,
                "denied": each.denied,
            }
            for each in reading.values
        ],
    }


def _iso(day):
    return day and day.isoformat()


def for_the_phone(rulebook):
    """
    Return ``rulebook`` as plain data for a script.

    With it come the steps, each with the names of its questions and the keys of the
    requirements that it bears on.
    """
    return {
        "name": rulebook.name,
        "version": rulebook.version,
        "title": rulebook.title,
        "citation": rulebook.citation,
        "from": _iso(rulebook.effective_from),
        "to": _iso(rulebook.effective_to),
        "requirements": [
            _requirement(each, READINGS[each.key])
            for each in asked(rulebook)
            if each.key in READINGS
        ],
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


def reading_rules():
    """Return what a script needs to read entries as ``entry`` does and to print lengths."""
    return {
        "questions": {
            name: {
                "sort": each.sort,
                "bare": each.bare,
                "chain": each.chain,
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
    } | units.reading_rules()
