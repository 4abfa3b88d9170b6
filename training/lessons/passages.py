"""The way to the very passage of a lesson that teaches a rule."""

from django.urls import reverse

from .loader import all_lessons


def _rule(key):
    return key.partition(":")[0]


def lesson_on(key, role):
    """
    Return the Lesson on the course of ``role`` that teaches the requirement ``key``.

    None if there is none. Of several it is the last, since that one goes into it. Staff have
    every lesson on their course. A line of a graded answer may be of one side alone
    (``dropper_spacing:port``); its rule is taught with the other's.
    """
    key = _rule(key)
    lessons = (each for each in reversed(all_lessons()) if key in each.rules)
    return next((each for each in lessons if role == "staff" or each.is_for(role)), None)


def url_for(key, role):
    """Return the address of the passage on the requirement ``key``, "" if there is none."""
    lesson = lesson_on(key, role)
    if lesson is None:
        return ""
    return f"{reverse('lessons:detail', args=[lesson.slug])}#rule-{_rule(key)}"


def title_for(key, role):
    """Return what the passage on the requirement ``key`` is called, "" if there is none."""
    lesson = lesson_on(key, role)
    return "" if lesson is None else lesson.rules[_rule(key)]
