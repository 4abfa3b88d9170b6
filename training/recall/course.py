"""The rules that a person's lessons teach."""

from training.lessons.loader import all_lessons

from .days import RulesOn


def rules_of(user, on=None):
    """
    Return the (rule set, key) that the lessons of ``user`` teach, each rule once, in order.

    ``on`` is a date or RulesOn; else today. Rules that no reading of the day can ask are left
    out. Staff have all lessons on their course.
    """
    on = RulesOn.of(on)
    found, seen = [], set()
    for lesson in all_lessons():
        if user.is_staff or lesson.is_for(user.role):
            for rule in of_lesson(lesson, on):
                if rule not in seen:
                    seen.update(on.alike(*rule))
                    found.append(rule)
    return found


def of_lesson(lesson, on=None):
    """
    Return the (rule set, key) that ``lesson`` teaches, as ``rules_of`` does.

    Each is a rule of the lesson's own rule set, or else of the first for gear that has it.
    """
    on = RulesOn.of(on)
    taken_over = {name for book in on.books.values() for name in book.gear}
    names = dict.fromkeys((lesson.rulebook.name, *sorted(taken_over), *on.books))
    rules = (
        next(((name, key) for name in names if on.can_ask(name, key)), None) for key in lesson.rules
    )
    return [rule for rule in dict.fromkeys(rules) if rule]
