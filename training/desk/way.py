"""The way from signing up to a certificate, and how far along it a person is."""

from collections import Counter
from collections.abc import Mapping, Set
from typing import NamedTuple

from django.utils.translation import gettext as _

from rigs.words.say import gettext_lazy
from training.lessons import course
from training.lessons.loader import all_lessons
from training.people.models import Role

# The keys of the steps; those of a lesson have its slug behind a colon.
SIGNED_UP = ""
READ, PRACTISED = "read", "practiced"
BEGUN, PASSED, EARNED, CERTIFIED = "exam-begun", "exam-passed", "earned", "certified"

LAST_STEPS = (
    (BEGUN, gettext_lazy("Started an exam")),
    (PASSED, gettext_lazy("Passed an exam")),
    (EARNED, gettext_lazy("Earned a certificate")),
)
# Time takes it away with nothing done, so it is asked of the day and never kept as a step.
NOW = (CERTIFIED, gettext_lazy("Certified today"))


class Step(NamedTuple):
    """A step of the way: its key, as ``PersonTally.step`` has it, and its words."""

    key: str
    title: str


class Facts(NamedTuple):
    """
    What a person has done, as sets.

    ``read`` has slugs of lessons, ``known`` those passed by their readings alone. ``passed``
    has kinds of exercise with how often, ``right`` the rules, as (rule set, key), that were
    ever right. ``exams`` are some of BEGUN, PASSED and EARNED. ``role`` is Role.STAFF for
    whoever looks after others.
    """

    role: str
    read: Set[str]
    known: Set[str]
    passed: Mapping[str, int]
    right: Set[tuple[str, str]]
    exams: Set[str]


class Distance(NamedTuple):
    """How far a person has come, in the words of ``PersonTally``."""

    lessons_read: int
    lessons_done: int
    step: str


def course_of(role):
    """Return the lessons that a person of ``role`` has to take; staff have them all."""
    return [each for each in all_lessons() if role == Role.STAFF or each.is_for(role)]


def way_of(role):
    """
    Return the Steps of a person of ``role`` in their order, the first one signing up.

    The last one is to be certified today; every other is also one that a tally can keep.
    """
    steps = [Step(SIGNED_UP, _("Signed up"))]
    for lesson in course_of(role):
        steps.append(Step(f"{READ}:{lesson.slug}", _("Read: {title}").format(title=lesson.title)))
        if lesson.exercises:
            steps.append(
                Step(
                    f"{PRACTISED}:{lesson.slug}", _("Practiced: {title}").format(title=lesson.title)
                )
            )
    return steps + [Step(*each) for each in (*LAST_STEPS, NOW)]


def how_far(facts):
    """
    Return the Distance that a person with ``facts`` has come.

    The step is the furthest taken, whether or not those before it were.
    """
    read = done = 0
    step = SIGNED_UP
    rules, needed = course.rules(facts.role), Counter()
    for lesson in course_of(facts.role):
        needed.update(lesson.exercises)
        was_read = lesson.slug in facts.read
        # As in ``lessons.progress``: a kind that several lessons have is passed once for each.
        practiced = all(facts.passed.get(kind, 0) >= needed[kind] for kind in lesson.exercises)
        right = all(facts.right & set(rule.alike) for rule in course.asked(lesson, rules))
        read += was_read
        done += lesson.slug in facts.known or (was_read and practiced and right)
        if lesson.exercises and practiced:
            step = f"{PRACTISED}:{lesson.slug}"
        elif was_read:
            step = f"{READ}:{lesson.slug}"
    for key, __ in LAST_STEPS:
        if key in facts.exams:
            step = key
    return Distance(read, done, step)
