"""The way from signing up to a certificate, and how far along it a person is."""

from collections.abc import Set
from typing import NamedTuple

from training.accounts.models import Role
from training.lessons.loader import all_lessons

# The keys of the steps; those of a lesson have its slug behind a colon.
SIGNED_UP = ""
READ, PRACTISED = "read", "practised"
BEGUN, PASSED, CERTIFIED = "paper-begun", "paper-passed", "certified"

LAST_STEPS = ((BEGUN, "Started an exam"), (PASSED, "Passed an exam"), (CERTIFIED, "Certified"))


class Step(NamedTuple):
    """A step of the way: its key, as ``PersonTally.step`` has it, and its words."""

    key: str
    title: str


class Facts(NamedTuple):
    """
    What a person has done, as sets.

    ``read`` has slugs of lessons, ``passed`` those of kinds of exercise, ``papers`` some
    of BEGUN, PASSED and CERTIFIED. ``role`` is Role.STAFF for whoever looks after others.
    """

    role: str
    read: Set[str]
    passed: Set[str]
    papers: Set[str]


class Distance(NamedTuple):
    """How far a person has come, in the words of ``PersonTally``."""

    lessons_read: int
    lessons_done: int
    step: str


def course_of(role):
    """Return the lessons that a person of ``role`` has to take; staff have them all."""
    return [each for each in all_lessons() if role == Role.STAFF or each.is_for(role)]


def way_of(role):
    """Return the Steps of a person of ``role`` in their order, the first one signing up."""
    steps = [Step(SIGNED_UP, "Signed up")]
    for lesson in course_of(role):
        steps.append(Step(f"{READ}:{lesson.slug}", f"Read: {lesson.title}"))
        if lesson.exercises:
            steps.append(Step(f"{PRACTISED}:{lesson.slug}", f"Practiced: {lesson.title}"))
    return steps + [Step(*each) for each in LAST_STEPS]


def how_far(facts):
    """
    Return the Distance that a person with ``facts`` has come.

    The step is the furthest taken, whether or not those before it were.
    """
    read = done = 0
    step = SIGNED_UP
    for lesson in course_of(facts.role):
        was_read = lesson.slug in facts.read
        practised = all(kind in facts.passed for kind in lesson.exercises)
        read += was_read
        done += was_read and practised
        if lesson.exercises and practised:
            step = f"{PRACTISED}:{lesson.slug}"
        elif was_read:
            step = f"{READ}:{lesson.slug}"
    for key, _ in LAST_STEPS:
        if key in facts.papers:
            step = key
    return Distance(read, done, step)
