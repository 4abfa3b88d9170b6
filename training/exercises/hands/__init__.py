"""
Modelled people who answer tasks.

``mind`` says what goes on in one, and ``people`` makes them; every number in them is an
assumption. They try out the exams, and they are the people of the demo. How they go about a task
its kind says, in ``Kind.hand``; its own grading then marks what they answer.
"""

from dataclasses import replace

from .. import kinds
from . import people, ways
from .mind import ALL, Mind

__all__ = ["ALL", "Mind", "answer", "looked_over", "people"]


def looked_over(mind, tasks):
    """Return ``mind`` after it has seen all ``tasks`` of an exam, which may tell it limits."""
    believed = dict(mind.believed)
    for way in mind.ways:
        for key, limit in ways.WAYS[way](tasks).items():
            believed.setdefault(key, limit)
    return replace(mind, believed=believed)


def answer(slug, task, mind, rng):
    """Return the raw answer of ``mind`` to ``task`` of the kind ``slug``."""
    fixed = mind.fixed.get(people.where_of(slug, task)) or mind.fixed.get((slug, task.difficulty))
    return fixed or kinds.get(slug).hand(task, mind, rng)
