"""Questions as an exam asks them, for the people who judge how hard they are."""

from typing import NamedTuple

from training.exercises import kinds
from training.exercises.hands.people import right_answer
from training.exercises.kinds.base import Kind, Marked, Task

from . import blueprints

MOST = 3
"""How many questions of a part a judge is shown at most."""
FORM = "sample"
"""The seed of the form that they are from: no exam that somebody takes has a text for one."""


class Sample(NamedTuple):
    """A question of an exam, and a right answer to it as it is graded."""

    kind: Kind
    task: Task
    right: Marked


def numbers(part):
    """Return the numbers of the samples of ``part``, a RequirementsPart, from 1."""
    return range(1, min(MOST, part.count) + 1)


def sample(part, number):
    """
    Return the Sample with that ``number`` of ``part``, the same one on the same day.

    Raises RequirementsError if no exam can be made of the certificate's requirements today, and
    IndexError if there is no such number.
    """
    if number not in numbers(part):
        raise IndexError(number)
    specs = [
        spec
        for spec in blueprints.compose(part.requirements, FORM)
        if (spec.slot.kind, spec.slot.difficulty) == (part.kind, part.difficulty)
    ]
    spec = specs[number - 1]
    kind, book = kinds.get(part.kind), blueprints.book_of(spec.slot.rulebook)
    task = kind.generate(spec.seed, book, part.difficulty, spec.focus)
    return Sample(kind, task, kind.grade(task, right_answer(kind.slug, task)))
