"""What each role is trained for: the rule sets for gear that its course goes by."""

from typing import NamedTuple

from django.utils import timezone

from rigs import near, rulebook

# A crew rigs without a sweep; an officer meets all three.
RULE_SETS = {"trainee": ("no-sweep",), "officer": ("no-sweep", "chain-sweep", "grate")}


def rule_sets(role):
    """Return the names of the rule sets for gear that people of ``role`` are trained in."""
    return RULE_SETS.get(role) or rulebook.gear_names()


def _book(name, day=None):
    return rulebook.nearest(name, day or timezone.localdate())


def law(role, day=None):
    """
    Return the law requirements of gear on the course of ``role``, as {(rule set, key): it}.

    By the versions of the date ``day``, else today's; the nearest where there is none.
    """
    return {
        (book.name, each.key): each
        for book in (_book(name, day) for name in rule_sets(role))
        for each in book.requirements
        if each.binds and not each.of_trip
    }


class Rule(NamedTuple):
    """
    A rule that a lesson has its readers asked about, by a rule set that asks it.

    ``alike`` are the (rule set, key) on the course that ask the same: what was answered by
    one of them counts for all.
    """

    rulebook_name: str
    key: str
    title: str
    alike: tuple[tuple[str, str], ...]


def _same(requirement):
    bounds = requirement.vessel_over, requirement.vessel_up_to
    return requirement.key, requirement.test, requirement.limit, *bounds


def rules(role, day=None):
    """
    Return the Rules on the course of ``role``: law of gear that one reading shows met or broken.

    A key with other limits in other rule sets is a rule each. ``day`` is as ``law`` has it.
    """
    askable = {name: near.keys(_book(name, day)) for name in rule_sets(role)}
    groups = {}
    for (name, key), requirement in law(role, day).items():
        if key in askable[name]:
            groups.setdefault(_same(requirement), []).append((name, key, requirement.title))
    return tuple(
        Rule(name, key, title, tuple(each[:2] for each in group))
        for group in groups.values()
        for name, key, title in group[:1]
    )


def asked(lesson, rules):
    """Return those of ``rules`` that readers of ``lesson`` are asked, in its order."""
    order = list(lesson.rules)
    return tuple(
        sorted(
            (each for each in rules if each.key in order), key=lambda each: order.index(each.key)
        )
    )
