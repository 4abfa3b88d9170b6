"""How a made-up person works through the lessons in a season, evening by evening."""

from collections import Counter
from dataclasses import dataclass, field
from datetime import datetime, time, timedelta

from django.utils import timezone

from training.exercises import kinds
from training.exercises.handing import SEEDS, Recipe
from training.exercises.hands import answer, people
from training.exercises.kinds.base import EASIEST, HARDEST
from training.exercises.models import Assignment, Attempt
from training.lessons.models import LessonRead
from training.people.models import User

MOST_TRIES = 4  # at one exercise in one evening
LEARNT_BY_A_TRY = 0.15  # of what is left to learn
FORGOTTEN_BY_WINTER = 0.25
ROUNDS = 2  # through the exercises again, for those who come back


@dataclass
class Learner:
    """
    A made-up person who trains.

    ``skill`` goes from 0 to 1 and grows with practice; ``reach`` is how many lessons
    the person gets through in a season before the work at sea takes over.
    """

    user: User
    skill: float
    reach: int
    read: set = field(default_factory=set)
    passes: Counter = field(default_factory=Counter)


@dataclass
class Records:
    """Everything made up so far, not saved yet; the users must be."""

    readings: list = field(default_factory=list)
    attempts: list = field(default_factory=list)

    @property
    def assignments(self):
        return [attempt.assignment for attempt in self.attempts]


def evening(day, rng):
    """Return a moment in the evening of ``day``, in the site's time zone."""
    moment = time(rng.randint(18, 21), rng.randint(0, 59), rng.randint(0, 59))
    return datetime.combine(day, moment, timezone.get_current_timezone())


def _try(learner, kind, moment, rng, records):
    """Have ``learner`` do an exercise at ``moment``; return the Attempt, marked for real."""
    seed = rng.randrange(SEEDS)
    difficulty = min(EASIEST + learner.passes[kind.slug], HARDEST)
    book = kind.pick_rulebook(seed, difficulty, moment.date())
    task = kind.generate(seed, book, difficulty)
    mind = people.of_skill(learner.user.email, learner.skill)
    given = answer(kind.slug, task, mind, rng)
    marked = kind.grade(task, given)
    assignment = Assignment(
        user=learner.user,
        created=moment,
        is_open=False,
        **Recipe(kind, seed, difficulty, book).fields,
    )
    attempt = Attempt(
        assignment=assignment,
        answer=given,
        marks=marked.marks,
        out_of=marked.out_of,
        passed=marked.passed,
        findings=[line.as_record() for line in marked.lines],
        remarks=list(marked.remarks),
        handed_in=moment + timedelta(seconds=rng.randint(60, 600)),
    )
    records.attempts.append(attempt)
    learner.passes[kind.slug] += marked.passed
    learner.skill += LEARNT_BY_A_TRY * (1 - learner.skill)
    return attempt


def _practice(learner, kind, moment, rng, records):
    """Have ``learner`` try until it works or the evening is over; return when that was."""
    for _ in range(MOST_TRIES):
        attempt = _try(learner, kind, moment, rng, records)
        moment = attempt.handed_in + timedelta(minutes=rng.randint(1, 8))
        if attempt.passed:
            break
    return moment


def take_lessons(learner, lessons, first, last, rng, records):
    """
    Take ``learner`` through ``lessons`` on evenings from ``first`` to ``last``, dates.

    What was read in an earlier season is not read again, and an exercise passed once is
    enough for its lesson. Readings and attempts go into ``records``.
    """
    day = first
    for lesson in lessons[: learner.reach]:
        left = [slug for slug in lesson.exercises if not learner.passes[slug]]
        if lesson.slug in learner.read and not left:
            continue
        if day > last:
            return
        moment = evening(day, rng)
        if lesson.slug not in learner.read:
            learner.read.add(lesson.slug)
            moment += timedelta(minutes=lesson.reading_minutes)
            records.readings.append(LessonRead(user=learner.user, slug=lesson.slug, read_at=moment))
        for slug in left:
            moment = _practice(learner, kinds.get(slug), moment, rng, records)
        day += timedelta(days=rng.randint(1, 9))


def refresh(learner, first, last, rng, records):
    """
    Have ``learner`` practice again in a later season what was passed in an earlier one.

    Some of it has been forgotten, and the tasks are a step harder.
    """
    learner.skill *= 1 - FORGOTTEN_BY_WINTER
    day = first
    for slug in sorted(kinds.KINDS) * ROUNDS:
        if learner.passes[slug] and day <= last:
            _practice(learner, kinds.get(slug), evening(day, rng), rng, records)
            day += timedelta(days=rng.randint(1, 5))
