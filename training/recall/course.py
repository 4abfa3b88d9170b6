"""The rules that a person's lessons teach."""

from training.lessons import course
from training.lessons.loader import all_lessons

from . import memory
from .days import RulesOn


def rules_of(user, on=None):
    """
    Return the (rule set, key) that the lessons of ``user`` teach, each rule once, in order.

    ``on`` is a date or RulesOn; else today. They are rules of the course of the person's role;
    those that no reading of the day can ask are left out.
    """
    on = RulesOn.of(on)
    role = "staff" if user.is_staff else user.role
    rules = course.rules(role, on.day)
    lessons = (each for each in all_lessons() if user.is_staff or each.is_for(role))
    asked = dict.fromkeys(rule for lesson in lessons for rule in course.asked(lesson, rules))
    found = (_by_today(rule, on) for rule in asked)
    return [rule for rule in found if rule]


def to_see(user, on=None):
    """
    Return the (rule set, key) by which ``user`` sees what is known already.

    They are the rules of the course that nothing asked so far; all of them once none is left.
    """
    on = RulesOn.of(on)
    taught = rules_of(user, on)
    found = memory.standing(user, taught, on)
    return [rule for rule in taught if found[rule].memory is None] or taught


def _by_today(rule, on):
    """Return the first (rule set, key) that can ask ``rule``, a course.Rule; None if none can."""
    return next((each for each in rule.alike if on.can_ask(*each)), None)


def readings_of(state, on=None):
    """Return the (rule set, key) of what is left to answer of a lesson, by its LessonState."""
    return _askable(state.rules_left, on)


def all_readings_of(state, on=None):
    """Return the (rule set, key) of all that a lesson asks, by its LessonState."""
    return _askable((each.rule for each in state.rules), on)


def _askable(rules, on):
    on = RulesOn.of(on)
    return [rule for rule in (_by_today(each, on) for each in rules) if rule]
