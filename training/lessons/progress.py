"""How far people have come, and what each should do next."""

from collections import defaultdict
from dataclasses import dataclass

from django.apps import apps
from django.urls import reverse

from .loader import Lesson, all_lessons
from .models import LessonRead

NOT_BEGUN = "not read yet"
PRACTICE_LEFT = "read; practice next"
COMPLETE = "complete"


@dataclass(frozen=True)
class Practice:
    """One kind of exercise of a lesson, and whether the person has passed it."""

    slug: str
    title: str
    passed: bool

    @property
    def url(self):
        return reverse("exercises:do", args=[self.slug])


@dataclass(frozen=True)
class LessonState:
    """How far one person is with one lesson."""

    lesson: Lesson
    read: bool
    practice: tuple[Practice, ...]

    @property
    def left(self):
        """The exercises still to pass."""
        return tuple(each for each in self.practice if not each.passed)

    @property
    def complete(self):
        return self.read and not self.left

    @property
    def state(self):
        """The state in words."""
        if self.complete:
            return COMPLETE
        return PRACTICE_LEFT if self.read else NOT_BEGUN

    @property
    def url(self):
        return reverse("lessons:detail", args=[self.lesson.slug])


@dataclass(frozen=True)
class NextStep:
    """The one thing to do next: words for the button, where it leads, and how long it takes."""

    label: str
    url: str
    lesson: Lesson
    kind: str = ""


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
    def minutes_left(self):
        """Minutes of reading in the lessons not read yet."""
        return sum(each.lesson.minutes for each in self.lessons if not each.read)

    @property
    def complete(self):
        return self.done == self.total

    @property
    def next_step(self):
        """The NextStep; None once every lesson is complete."""
        for each in self.lessons:
            if not each.read:
                return NextStep(f"Read: {each.lesson.title}", each.url, each.lesson)
            if each.left:
                kind = each.left[0]
                return NextStep(f"Practice: {kind.title}", kind.url, each.lesson, kind.slug)
        return None

    def of(self, slug):
        """Return the LessonState of the lesson ``slug``, None if it is not on the course."""
        return next((each for each in self.lessons if each.lesson.slug == slug), None)


def _kind_title(slug):
    # Late, since the exercises may come to need the lessons.
    from training.exercises.kinds import get

    return get(slug).title


def _state(lesson, read, passed):
    practice = (Practice(kind, _kind_title(kind), kind in passed) for kind in lesson.exercises)
    return LessonState(lesson, lesson.slug in read, tuple(practice))


def progress_for_many(users):
    """
    Return {user's pk: Progress} for ``users``, in two queries however many they are.

    A lesson is complete when it has been read and each of its exercises passed once.
    """
    users = list(users)
    read, passed = defaultdict(set), defaultdict(set)
    for pk, slug in LessonRead.objects.filter(user__in=users).values_list("user_id", "slug"):
        read[pk].add(slug)
    attempts = apps.get_model("exercises", "Attempt").objects
    rows = attempts.filter(assignment__user__in=users, passed=True).order_by()
    for pk, kind in rows.values_list("assignment__user_id", "assignment__kind").distinct():
        passed[pk].add(kind)
    lessons = all_lessons()
    return {
        user.pk: Progress(
            tuple(
                _state(lesson, read[user.pk], passed[user.pk])
                for lesson in lessons
                if user.is_staff or lesson.is_for(user.role)
            )
        )
        for user in users
    }


def progress_for(user):
    """Return the Progress of one ``user``, in two queries."""
    return progress_for_many([user])[user.pk]
