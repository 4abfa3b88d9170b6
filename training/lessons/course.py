"""What each role is trained for: the rule sets for gear that its course goes by."""

from django.utils import timezone

from rigs import rulebook

# A crew rigs without a sweep; an officer meets all three.
RULE_SETS = {"trainee": ("no-sweep",), "officer": ("no-sweep", "chain-sweep", "grate")}


def rule_sets(role):
    """Return the names of the rule sets for gear that people of ``role`` are trained in."""
    return RULE_SETS.get(role) or rulebook.gear_names()


def law(role):
    """
    Return the law requirements of gear on the course of ``role``, as {(rule set, key): it}.

    By today's versions, or the nearest where a rule set has none for today.
    """
    today = timezone.localdate()
    books = [rulebook.nearest(name, today) for name in rule_sets(role)]
    return {
        (book.name, each.key): each
        for book in books
        for each in book.requirements
        if each.binds and not each.of_trip
    }
