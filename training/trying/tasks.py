"""Tasks for somebody without an account: drawn, named by a signed text, and graded anew."""

import secrets

from django.core import signing
from django.utils import timezone

from training.exercises import handing, kinds
from training.exercises.handing import SEEDS
from training.exercises.kinds.base import EASIEST
from training.exercises.kinds.one_reading import OneReading
from training.exercises.models import Assignment

FIRST = OneReading.slug
"""The kind that is tried first: one question, in under a minute."""

_SALT = "training.trying.task"
_LASTS = 24 * 60 * 60  # seconds for which a task can be answered
_FIELDS = (
    "kind",
    "kind_version",
    "seed",
    "difficulty",
    "rulebook_name",
    "rulebook_version",
    "focus",
)


class Stale(ValueError):
    """A text that names no task, or one drawn too long ago."""


def draw(kind, before=()):
    """
    Return a new task of ``kind`` as an Assignment of nobody, not saved.

    ``before`` is what was answered already, as Kept has it: the level follows it. Raise
    handing.NoRules if none can be set today.
    """
    seed, difficulty = secrets.randbelow(SEEDS), _difficulty(kind, before)
    book = kind.pick_rulebook(seed, difficulty, timezone.localdate())
    if book is None:
        raise handing.NoRules(difficulty)
    focus = _focus(kind, book, difficulty, before)
    return Assignment(**handing.Recipe(kind, seed, difficulty, book, focus).fields)


def _difficulty(kind, before):
    """Return the level after ``before``, by the staircase that people with an account climb."""
    of_kind = [entry for entry in before if entry["task"]["kind"] == kind.slug][-2:]
    return handing.staircase(
        [(entry["task"]["difficulty"], attempt(entry).passed) for entry in reversed(of_kind)]
    )


def _focus(kind, book, difficulty, before):
    """Return what the first question of all turns on: the droppers that the first page shows."""
    first = "dropper_spacing"
    is_first = kind.slug == FIRST and not before
    return [first] if is_first and first in kind.covers(book, difficulty) else []


def recipe(assignment):
    """Return what makes the task of ``assignment``, as plain values."""
    return {name: getattr(assignment, name) for name in _FIELDS}


def signed(assignment):
    """Return a text that names the task of ``assignment`` and cannot be made up."""
    return signing.dumps(recipe(assignment), salt=_SALT, compress=True)


def named(text):
    """Return the Assignment that ``signed`` named; raise Stale if none did of late."""
    try:
        return Assignment(**signing.loads(text, salt=_SALT, max_age=_LASTS))
    except signing.BadSignature as error:
        raise Stale from error


def attempt(entry):
    """Return an ``entry`` of Kept as an Attempt, not saved, graded by the rule module."""
    return handing.graded(Assignment(**entry["task"]), entry["answer"])


def offered():
    """Return the kinds that can be tried, the shortest to answer first."""
    found = [kind for kind in kinds.KINDS.values() if kind.drawn_from(EASIEST)]
    return sorted(found, key=lambda kind: kind.seconds)
