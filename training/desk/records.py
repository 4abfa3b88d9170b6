"""One person's record: what was read, what was handed in."""

from datetime import datetime
from typing import NamedTuple

from django.utils.translation import gettext as _

from rigs.rules.rulebook import Requirement
from training.course.progress import LessonState
from training.exercises import kinds
from training.exercises.models import Attempt

from .missed import rules_put

ATTEMPTS_AT_ONCE = 200  # read together for a download


class ReadLesson(NamedTuple):
    """Where a person stands with a lesson; ``read_at`` is None if it is not read yet."""

    state: LessonState
    read_at: datetime | None


class AttemptRow(NamedTuple):
    """
    An attempt, the title of its kind of exercise, and the rules that were got wrong.

    ``answer`` is the raw answer as (name of the field, text).
    """

    attempt: Attempt
    title: str
    missed: list[Requirement]
    answer: list[tuple[str, str]]


def lessons_of(person, progress):
    """Return a ReadLesson for each lesson of the ``progress`` of ``person``."""
    read = dict(person.lessons_read.values_list("slug", "read_at"))
    return [ReadLesson(state, read.get(state.lesson.slug)) for state in progress.lessons]


def attempts_of(person):
    """Return what ``person`` has handed in, the latest first, with the assignments."""
    return Attempt.objects.by(person).select_related("assignment")


def that_put(handed_in, rule, missed=False):
    """Return those of the attempts ``handed_in`` that asked about a rule, or ``missed`` it."""
    found = []
    for attempt in handed_in.iterator(chunk_size=ATTEMPTS_AT_ONCE):
        put = rules_put(attempt.findings, attempt.assignment.rulebook)
        if rule in put and (put[rule] or not missed):
            found.append(attempt.pk)
    return handed_in.filter(pk__in=found)


def kind_title(slug):
    """Return the title of a kind of exercise; its slug if there is no such kind any more."""
    try:
        return kinds.get(slug).title
    except KeyError:
        return slug


def _answer_text(value):
    """Return one field of a raw answer as text, in words where the form had none."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, list):
        value = ", ".join(value)
    return _("left empty") if value in (None, "") else str(value)


def entry(attempt):
    """Return the AttemptRow of one ``attempt``."""
    rules = attempt.assignment.rulebook
    put = rules_put(attempt.findings, rules)
    missed = [requirement for requirement in rules.requirements if put.get(requirement.key)]
    answer = [(name, _answer_text(value)) for name, value in attempt.answer.items()]
    return AttemptRow(attempt, kind_title(attempt.assignment.kind), missed, answer)
