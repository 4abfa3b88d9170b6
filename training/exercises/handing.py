"""
Setting tasks, handing them in, and marking them again years later.

How hard the next task of a kind is follows a staircase: two right running at a level and it
goes up, one wrong and it goes down. It settles where somebody is right about seven times in
ten: Levitt, "Transformed up-down methods in psychoacoustics", Journal of the Acoustical Society
of America, 1971 (from memory).
"""

import secrets
from typing import NamedTuple

from django.db import transaction
from django.utils import timezone

from rigs.rules.rulebook import Rulebook
from training.people.models import User

from . import kinds
from .kinds.base import EASIEST, HARDEST, Kind
from .models import Assignment, Attempt


class Recipe(NamedTuple):
    """What makes a task; ``focus`` are keys of ``book``, as ``Kind.generate`` takes them."""

    kind: Kind
    seed: int
    difficulty: int
    book: Rulebook
    focus: tuple[str, ...] = ()

    @property
    def fields(self):
        """The fields by which an Assignment makes the task anew."""
        return {
            "kind": self.kind.slug,
            "kind_version": self.kind.version,
            "seed": self.seed,
            "difficulty": self.difficulty,
            "rulebook_name": self.book.name,
            "rulebook_version": self.book.version,
            "focus": list(self.focus),
        }


class NoRules(ValueError):
    """No rule set that a task of this kind and level is drawn from has a version for today."""


SEEDS = 2**31  # what the database's positive integer holds


def staircase(latest):
    """
    Return how hard the next task is, after the ``latest`` of its kind, newest first.

    They are (difficulty, passed); the last two are enough.
    """
    if not latest:
        return EASIEST
    (difficulty, passed), *before = latest
    if not passed:
        return max(difficulty - 1, EASIEST)
    return min(difficulty + (before[:1] == [(difficulty, True)]), HARDEST)


def next_difficulty(user, kind):
    """Return how hard the next task of ``kind`` is to be for ``user``."""
    attempts = Attempt.objects.by(user).filter(assignment__kind=kind.slug)
    return staircase(list(attempts.values_list("assignment__difficulty", "passed")[:2]))


def open_assignment(user, kind):
    """
    Return the assignment of ``kind`` that ``user`` has open, setting one if there is none.

    However often and from however many windows it is asked for, there is only one. Raise
    NoRules if none can be set today.
    """
    found = Assignment.objects.open().filter(user=user, kind=kind.slug).first()
    if found:
        return found
    seed, difficulty = secrets.randbelow(SEEDS), next_difficulty(user, kind)
    book = kind.pick_rulebook(seed, difficulty, timezone.localdate())
    if book is None:
        raise NoRules(difficulty)
    return set_task(user, Recipe(kind, seed, difficulty, book))


@transaction.atomic
def open_at(user, kind, level):
    """
    Return the assignment of ``kind`` that ``user`` has open at ``level``, setting one if need be.

    One that is open at another level is put away: it is closed without an attempt, and an
    answer to it that comes all the same still counts. Raise NoRules if none can be set today.
    """
    User.objects.select_for_update(no_key=True).get(pk=user.pk)  # two taps at once set one
    opened = Assignment.objects.open().filter(user=user, kind=kind.slug)
    if found := opened.filter(difficulty=level).first():
        return found
    seed = secrets.randbelow(SEEDS)
    book = kind.pick_rulebook(seed, level, timezone.localdate())
    if book is None:
        raise NoRules(level)
    opened.update(is_open=False)
    return set_task(user, Recipe(kind, seed, level, book))


def set_task(user, recipe):
    """Return the assignment of its kind that ``user`` has open; of ``recipe`` if there is none."""
    assignment, _ = Assignment.objects.get_or_create(
        user=user, kind=recipe.kind.slug, is_open=True, defaults=recipe.fields
    )
    return assignment


def kind_of(assignment):
    """Return the Kind that made ``assignment``, in its version of that day."""
    return kinds.get(assignment.kind, assignment.kind_version)


def task_of(assignment):
    """Return the Task of ``assignment``, made anew from its seed."""
    kind = kind_of(assignment)
    focus = tuple(assignment.focus)
    return kind.generate(assignment.seed, assignment.rulebook, assignment.difficulty, focus)


def graded(assignment, answer):
    """
    Return ``answer``, raw, as an Attempt at ``assignment``, not saved.

    Raise BadAnswer if it cannot be read.
    """
    marked = kind_of(assignment).grade(task_of(assignment), answer)
    return Attempt(
        assignment=assignment,
        answer=answer,
        marks=marked.marks,
        out_of=marked.out_of,
        passed=marked.passed,
        findings=[line.as_record() for line in marked.lines],
        remarks=list(marked.remarks),
    )


@transaction.atomic
def hand_in(assignment, answer, noted=None, told=None):
    """
    Mark ``answer``, raw, and return the Attempt; the first answer handed in stands.

    One that comes from sea was ``noted`` then, and its phone ``told`` so many points.
    Safe to call twice, at once even: there is one attempt an assignment. Raise BadAnswer
    if the answer cannot be read; nothing is saved then.
    """
    # Held until the attempt is saved, so that a second hand-in waits and then finds it.
    assignment = Assignment.objects.select_for_update().get(pk=assignment.pk)
    attempt = Attempt.objects.filter(assignment=assignment).first()
    if attempt:
        return attempt
    attempt = graded(assignment, answer)
    attempt.noted, attempt.told = noted, told
    attempt.save()
    assignment.is_open = False
    assignment.save(update_fields=["is_open"])
    return attempt


def remark(attempt):
    """
    Return ``attempt`` as Marked once more, from its seed, rule set and raw answer alone.

    Nothing stored of the marking is looked at, so that it can be held against it.
    """
    assignment = attempt.assignment
    return kind_of(assignment).grade(task_of(assignment), attempt.answer)
