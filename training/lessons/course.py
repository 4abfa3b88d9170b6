"""What each role is trained for: the rule sets for gear that its course goes by."""

from functools import lru_cache
from typing import NamedTuple

from django.utils import timezone

from rigs.make import near
from rigs.rules import rulebook


def rule_sets(role):
    """Return the names of the rule sets for gear that people of ``role`` are trained in."""
    return rulebook.on_course(role) or rulebook.gear_names()


def _book(name, day=None):
    return rulebook.nearest(name, day or timezone.localdate())


class Rule(NamedTuple):
    """
    A rule that a lesson has its readers asked about, by a rule set that asks it.

    ``alike`` are the (rule set, key) that ask the same, those on the course first: what was
    answered by one of them counts for all.
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
    own = rule_sets(role)
    names = dict.fromkeys((*own, *rulebook.gear_names()))
    return _rules(own, tuple(_book(name, day) for name in names))


@lru_cache(maxsize=16)
def _rules(own, books):
    groups = {}
    for book in books:
        askable = near.keys(book)
        for each in book.requirements:
            if each.binds and not each.of_trip and each.key in askable:
                groups.setdefault(_same(each), []).append((book.name, each))
    return tuple(
        Rule(name, first.key, first.title, tuple((other, each.key) for other, each in group))
        for group in groups.values()
        for name, first in group[:1]
        if name in own
    )


def asked(lesson, rules):
    """Return those of ``rules`` that readers of ``lesson`` are asked, in its order."""
    order = list(lesson.rules)
    return tuple(
        sorted(
            (each for each in rules if each.key in order), key=lambda each: order.index(each.key)
        )
    )
