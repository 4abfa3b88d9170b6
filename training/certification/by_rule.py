"""The result of an exam rule by rule: how often each was asked, and how often right."""

from typing import NamedTuple

from training.lessons import passages

from . import blueprints
from .spread import READING


class RuleResult(NamedTuple):
    """
    One rule, or one kind of other question: ``right`` of so many ``asked``.

    ``must`` tells a rule that must be right. ``url`` is the address of the passage of a
    lesson on it, empty for other kinds and where there is none.
    """

    title: str
    right: int
    asked: int
    must: bool = False
    url: str = ""

    @property
    def missed(self):
        """How many were wrong."""
        return self.asked - self.right


def results(exam, tasks):
    """Return the RuleResults of ``tasks``, those of the graded ``exam``: most missed first."""
    by_rule = {}
    for task in tasks:
        place = (READING, task.focus[0]) if task.kind == READING else (task.kind, "")
        by_rule.setdefault(place, []).append(bool(task.passed))
    found = [
        RuleResult(
            blueprints.title_of(key, exam.requirements.rulebooks)
            if key
            else blueprints.title_of_kind(kind),
            sum(passed),
            len(passed),
            key in exam.must_pass,
            passages.url_for(key, exam.user.role) if key else "",
        )
        for (kind, key), passed in by_rule.items()
    ]
    return sorted(found, key=lambda each: (-each.missed, not each.must, each.title))
