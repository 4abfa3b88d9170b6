"""How far people have come, and what each should do next."""

from collections import Counter
from dataclasses import dataclass
from typing import NamedTuple

from django.db.models import Value
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from rigs.words.say import gettext_lazy
from training.deck.prepared import Prepared
from training.exercises import kinds
from training.exercises.kinds.one_reading import OneReading
from training.exercises.models import Attempt
from training.lessons import course, minutes
from training.lessons.loader import Lesson, all_lessons
from training.lessons.models import LessonRead
from training.recall import remembered

NOT_BEGUN = gettext_lazy("not read yet")
READINGS_LEFT = gettext_lazy("read; readings next")
PRACTICE_LEFT = gettext_lazy("read; practice next")
PASSED = gettext_lazy("passed by its readings")
COMPLETE = "complete"
KNOWN = "known"

NOBODY, STAFF = "nobody", "staff"
"""Who goes through all lessons, besides the roles that have a course."""

FEWEST_TO_PASS = 6
"""Readings by which a lesson is passed unread, at the least; two a rule, or more of few rules."""


class Practice(NamedTuple):
    """One kind of exercise of a lesson, and whether the person has passed it often enough."""

    slug: str
    title: str
    passed: bool

    @property
    def url(self):
        return reverse("exercises:do", args=[self.slug])


class RuleState(NamedTuple):
    """
    How one person is with one rule of a lesson.

    ``right`` is whether they were ever right about it, ``right_last`` whether they were the
    last time, ``known`` whether they were on several days. ``missed`` the last time is
    another thing than never asked. ``is_new`` says that no lesson before asks it.
    """

    rule: course.Rule
    right: bool
    right_last: bool
    known: bool
    missed: bool
    is_new: bool


class LessonState(NamedTuple):
    """
    How far one person is with one lesson.

    ``number`` is its place on the track that the person goes, counted from 1 without gaps.
    ``practice`` are the exercises that are part of the lesson, ``more`` those that are not.
    """

    lesson: Lesson
    number: int
    read: bool
    passed: bool
    practice: tuple[Practice, ...]
    more: tuple[Practice, ...]
    rules: tuple[RuleState, ...]

    @property
    def left(self):
        """The exercises still to pass."""
        return () if self.passed else tuple(each for each in self.practice if not each.passed)

    @property
    def rules_left(self):
        """The Rules of which no reading was right yet."""
        return () if self.passed else tuple(each.rule for each in self.rules if not each.right)

    @property
    def complete(self):
        return self.passed or (self.read and not self.left and not self.rules_left)

    @property
    def knows_rules(self):
        """Whether the person was right the last time about every rule it asks."""
        return bool(self.rules) and all(each.right_last for each in self.rules)

    @property
    def known(self):
        """Whether the person knows every rule it asks: right on two days or more, and of late."""
        return bool(self.rules) and all(each.known for each in self.rules)

    @property
    def missed(self):
        """How many of its rules the person missed the last time."""
        return sum(each.missed for each in self.rules)

    @property
    def each_to_pass(self):
        """How many readings of each rule it takes to pass the lesson unread."""
        return max(2, -(-FEWEST_TO_PASS // len(self.rules))) if self.rules else 0

    @property
    def readings_to_pass(self):
        return self.each_to_pass * len(self.rules)

    @property
    def state(self):
        """The state in words."""
        if self.complete:
            return COMPLETE if self.read else PASSED
        if not self.read:
            return NOT_BEGUN
        return READINGS_LEFT if self.rules_left else PRACTICE_LEFT

    @property
    def _task_seconds(self):
        tasks = sum(kinds.get(each.slug).seconds for each in self.practice)
        return tasks + OneReading.seconds * sum(each.is_new for each in self.rules)

    @property
    def minutes(self):
        """Whole minutes for all of the lesson: reading, tasks, and rules no lesson before asks."""
        return minutes.whole(minutes.reading(self.lesson.words) + self._task_seconds)

    @property
    def readings_minutes(self):
        """Whole minutes for the readings left."""
        return minutes.whole(OneReading.seconds * len(self.rules_left))

    @property
    def pass_minutes(self):
        """Whole minutes for the readings by which the lesson is passed."""
        return minutes.whole(OneReading.seconds * self.readings_to_pass)

    @property
    def minutes_left(self):
        """Whole minutes of what is left to do."""
        if self.complete:
            return 0
        if not (self.read or any(each.right for each in self.rules)):
            return self.minutes
        seconds = 0 if self.read else minutes.reading(self.lesson.words)
        seconds += sum(kinds.get(each.slug).seconds for each in self.left)
        seconds += OneReading.seconds * len(self.rules_left)
        return minutes.whole(seconds)

    @property
    def url(self):
        return reverse("lessons:detail", args=[self.lesson.slug])


@dataclass(frozen=True)
class NextStep:
    """
    The one thing to do next: words for the button, where it leads, and how long it takes.

    ``why`` says what makes it the next, in a sentence, where that is not the order.
    """

    label: str
    url: str
    lesson: Lesson
    minutes: int
    kind: str = ""
    why: str = ""


@dataclass(frozen=True)
class Progress:
    """One person's way through the lessons of their course, in order."""

    lessons: tuple[LessonState, ...]

    @property
    def done(self):
        """How many lessons are complete."""
        return sum(each.complete for each in self.lessons)

    @property
    def total(self):
        return len(self.lessons)

    @property
    def minutes(self):
        """Minutes for the whole course, tasks included."""
        return sum(each.minutes for each in self.lessons)

    @property
    def minutes_left(self):
        """Minutes for what is left of the course, tasks included."""
        return sum(each.minutes_left for each in self.lessons)

    @property
    def complete(self):
        return self.done == self.total

    @property
    def next_step(self):
        """
        The NextStep; None once every lesson is complete.

        What was begun is finished first. Then come the lessons with rules that were missed, then
        the rest in order, and last those whose rules the person knows.
        """
        left = [each for each in self.lessons if not each.complete]
        if not left:
            return None
        return _step(min(left, key=_rank))

    def of(self, slug):
        """Return the LessonState of the lesson ``slug``, None if it is not on the course."""
        return next((each for each in self.lessons if each.lesson.slug == slug), None)

    def step_from(self, slug):
        """
        Return the NextStep of somebody who is at the lesson ``slug``.

        What is left of that lesson once it is read comes before all others.
        """
        here = self.of(slug)
        return _step(here) if here and here.read and not here.complete else self.next_step

    @property
    def tracks(self):
        """
        The lessons as (title, LessonStates) a track; whoever goes one alone has it untitled.

        Of those that crews do not read officers have the shared ones before.
        """
        crews = tuple(each for each in self.lessons if each.lesson.is_for("trainee"))
        others = tuple(each for each in self.lessons if each not in crews)
        if not others or all(each.lesson.is_for("officer") for each in crews):
            return (("", self.lessons),)
        return ((_("For fishermen"), crews), (_("For officers, after the shared ones"), others))


def _rank(state):
    if state.read:
        return 0
    if state.knows_rules:
        return 3
    return 1 if state.missed else 2


def _step(state):
    lesson, url = state.lesson, state.url
    if state.read and state.rules_left:
        count = len(state.rules_left)
        label = ngettext(
            "Answer {count} short reading",
            "Answer {count} short readings",
            count,
        ).format(count=count)
        return NextStep(label, f"{url}#readings", lesson, state.minutes_left, OneReading.slug)
    if state.read:
        kind = state.left[0]
        seconds = kinds.get(kind.slug).seconds
        label = _("Practice: {title}").format(title=kind.title)
        return NextStep(label, kind.url, lesson, minutes.whole(seconds), kind.slug)
    if state.knows_rules:
        why = _("You were right about its rules. Show it by its readings, or read it.")
        return NextStep(
            _("Open: {title}").format(title=lesson.title), url, lesson, state.minutes_left, why=why
        )
    missed = state.missed
    why = _("You missed {missed} of its rules.").format(missed=missed) if missed else ""
    if missed == 1:
        why = _("You missed a rule of this lesson.")
    return NextStep(
        _("Read: {title}").format(title=lesson.title), url, lesson, state.minutes_left, why=why
    )


class _Record:
    """What is on record of one person, as far as lessons go."""

    def __init__(self, read=(), passed_lessons=(), passes=None, memory=None):
        self.read, self.passed_lessons = read, passed_lessons
        self.passes, self.memory = passes or Counter(), memory or {}


def _numbers(lessons):
    """
    Return the number of each of ``lessons``, those of a course, by its slug.

    Where they are of both tracks, those of crews are counted, and what only officers read is
    counted on theirs.
    """
    found = {}
    for role in ("officer", "trainee"):
        track = [each.slug for each in lessons if each.is_for(role)]
        numbers = {slug: number for number, slug in enumerate(track, 1)}
        if len(track) == len(lessons):
            return numbers
        found |= numbers
    return found


class _Planned(NamedTuple):
    """
    A lesson on a course, whoever goes it.

    ``number`` is its place, ``needed`` how often each of its exercises is to be passed by then,
    ``rules`` are (Rule, whether no lesson before asks it).
    """

    lesson: Lesson
    number: int
    needed: dict
    rules: tuple


# By the course, (lessons, rules, what follows from them): the same for all until one changes.
_plans = {}


def _plan(role):
    """Return the _Planned of the course of ``role``; of NOBODY all that crews are asked."""
    lessons, rules = all_lessons(), course.rules("trainee" if role == NOBODY else role)
    kept = _plans.get(role)
    if kept is None or kept[0] is not lessons or kept[1] is not rules:
        own = [each for each in lessons if role in (NOBODY, STAFF) or each.is_for(role)]
        kept = _plans[role] = (lessons, rules, tuple(_planned(own, rules)))
    return kept[2]


def _planned(lessons, rules):
    """Yield them; a kind that several lessons have is to be passed once for each of them."""
    times, seen, numbers = Counter(), set(), _numbers(lessons)
    for lesson in lessons:
        times.update(lesson.exercises)
        asked = course.asked(lesson, rules)
        needed = {kind: times[kind] for kind in lesson.exercises}
        new = tuple((rule, rule not in seen) for rule in asked)
        yield _Planned(lesson, numbers[lesson.slug], needed, new)
        seen.update(asked)


def _states(plan, record, today):
    """Yield the LessonState of each lesson of ``plan`` for one person."""
    for lesson, number, needed, rules in plan:
        yield LessonState(
            lesson,
            number,
            lesson.slug in record.read,
            lesson.slug in record.passed_lessons,
            tuple(
                Practice(kind, kinds.get(kind).title, record.passes[kind] >= times)
                for kind, times in needed.items()
            ),
            tuple(
                Practice(kind, kinds.get(kind).title, record.passes[kind] > 0)
                for kind in lesson.more
            ),
            tuple(_rule_state(rule, record.memory, is_new, today) for rule, is_new in rules),
        )


def _rule_state(rule, memory, is_new, today):
    last = remembered.latest(memory, rule)
    return RuleState(
        rule,
        right=any(memory[each].right for each in rule.alike if each in memory),
        right_last=last is not None and last.right_last,
        known=last is not None and last.state(today) == KNOWN,
        missed=last is not None and not last.right_last,
        is_new=is_new,
    )


def outline():
    """Return the Progress of nobody, over all lessons, each with the rules that crews are asked."""
    return Progress(tuple(_states(_plan(NOBODY), _Record(), timezone.localdate())))


_READ, _PRACTICED, _PASSED = "read", "practiced", "passed"


def _done(pks):
    """Return (pk of a person, one of the three, of what, how often) of the people with ``pks``."""
    parts = (
        (LessonRead.objects.filter(user__in=pks), "user_id", _READ, "slug", Value(1)),
        (
            Attempt.objects.passes_of(pks),
            "assignment__user_id",
            _PRACTICED,
            "assignment__kind",
            "times",
        ),
        (
            remembered.passed_sets().filter(user__in=pks),
            "user_id",
            _PASSED,
            "subject",
            Value(1),
        ),
    )
    first, *others = (
        rows.order_by().values_list(person, Value(what), of, times)
        for rows, person, what, of, times in parts
    )
    return first.union(*others, all=True)


_DONE = Prepared(_done)


def progress_for_many(users):
    """
    Return {user's pk: Progress} for ``users``, in two queries however many they are.

    A lesson is complete when it has been read, each of its exercises passed, and a reading of
    each of its rules right; or when it was passed by its readings alone.
    """
    users = list(users)
    records = {user.pk: _Record(set(), set(), Counter()) for user in users}
    for pk, what, value, times in _DONE.rows(records):
        if what == _READ:
            records[pk].read.add(value)
        elif what == _PRACTICED:
            records[pk].passes[value] = times
        else:
            records[pk].passed_lessons.add(value.removesuffix(remembered.KNOWN_ALREADY))
    for pk, memory in remembered.by_rule(users).items():
        records[pk].memory = memory
    today = timezone.localdate()
    return {
        user.pk: Progress(tuple(_states(_plan(_role(user)), records[user.pk], today)))
        for user in users
    }


def lessons_of(user):
    """Return the Lessons on the course of ``user``, in order, without asking how far they are."""
    return tuple(planned.lesson for planned in _plan(_role(user)))


def _role(user):
    return STAFF if user.is_staff else user.role


def progress_for(user):
    """Return the Progress of one ``user``, in two queries."""
    return progress_for_many([user])[user.pk]
