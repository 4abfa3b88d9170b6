"""The rules that a person's lessons teach."""

from django.utils import timezone

from rigs import rulebook
from training.lessons.loader import all_lessons

from . import memory, sets


def lessons_of(user):
    """Return the lessons on the course of ``user``, in order; staff have them all."""
    return [each for each in all_lessons() if user.is_staff or each.is_for(user.role)]


def rules_of(user, today=None):
    """
    Return the (rule set, key) that the lessons of ``user`` teach, each rule once, in order.

    A rule is that of the lesson's own rule set, or else of the first for gear that can ask it.
    Those that no rule set of ``today`` can ask as a reading are left out.
    """
    today = today or timezone.localdate()
    found, seen = [], set()
    for lesson in lessons_of(user):
        for key in getattr(lesson, "rules", ()):
            rule = _rule(key, lesson.rulebook.name, today)
            if rule and rule not in seen:
                seen.update(memory.alike(*rule, today))
                found.append(rule)
    return found


def of_lesson(lesson, today=None):
    """Return the (rule set, key) that ``lesson`` teaches, as ``rules_of`` does."""
    today = today or timezone.localdate()
    rules = (_rule(key, lesson.rulebook.name, today) for key in getattr(lesson, "rules", ()))
    return [rule for rule in dict.fromkeys(rules) if rule]


def _rule(key, name, today):
    names = dict.fromkeys((name, *rulebook.gear_names()))
    return next(((each, key) for each in names if sets.can_ask(each, key, today)), None)
