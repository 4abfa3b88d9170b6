"""What of a verdict rests on what somebody said, and was not measured or seen."""

from collections.abc import Collection

from rigs.requirements.questions import OnSheet, Question
from rigs.rules.judge import Finding
from rigs.rules.outcomes import NOT_MEASURED
from rigs.words.gear import SIDES
from rigs.words.say import gettext as _

from .steps import QUESTIONS


def called(question: Question) -> str:
    """Return how ``question`` is called away from its stop: with its side."""
    side = question.stop.partition("_")[0]
    label = _("“{label}”").format(label=question.label)
    return f"{label} ({side})" if side in SIDES else label


def _bearing(finding: Finding, sheet: OnSheet) -> list[frozenset[str]]:
    """Return the names on which ``finding`` rests, by place: one place does for what is outside."""
    if finding.requirement.of_trip:
        return [sheet.names]
    vessel = sheet.turns_on.name if sheet.turns_on and finding.requirement.by_vessel else ""
    if finding.measured is None and sheet.absent:
        return [frozenset({sheet.absent.name})]
    totals = sheet.totals
    if finding.failed:
        totals = tuple(each for each in totals if any(map(each.has, finding.spots)))
        return [frozenset({*total.names, vessel}) for total in totals]
    return [frozenset({vessel, *(name for total in totals for name in total.names)})]


def rests_on(finding: Finding, told: Collection[str]) -> tuple[Question, ...]:
    """
    Return the Questions ``told``, by name, on which ``finding`` rests.

    What is outside at a place that was measured rests on that place alone.
    """
    sheet = finding.requirement.measure.sheet
    if not told or sheet is None or finding.outcome == NOT_MEASURED:
        return ()
    places = [names & frozenset(told) for names in _bearing(finding, sheet)]
    if not all(places):
        return ()
    found = frozenset[str]().union(*places)
    return tuple(question for name, question in QUESTIONS.items() if name in found)


def told_words(finding: Finding, told: Collection[str]) -> str:
    """Return what to say with ``finding`` of what it rests on that was told; mostly nothing."""
    resting = rests_on(finding, told)
    if not resting:
        return ""
    return _("Said, not measured: {names}.").format(
        names=", ".join(called(question) for question in resting)
    )
