"""Which rules people get wrong."""

from typing import NamedTuple

from django.utils.translation import gettext as _

from rigs.rules import rulebook
from rigs.rules.rulebook import Requirement


class MissedRule(NamedTuple):
    """In how many of the attempts that put a rule to the test it was got wrong."""

    requirement: Requirement
    missed: int
    asked: int


def _rule_of(line):
    """Return the key of a line's requirement; one for one side alone has the side behind it."""
    return line["key"].partition(":")[0]


def missed_keys(findings):
    """Return the keys of the ``findings`` of one attempt that were got wrong, once each."""
    return {_rule_of(line) for line in findings if not line["right"]}


def rules_put(findings, rules):
    """
    Return {key: whether it was missed} of the rules that one attempt put to the test.

    A rule counts once, however many of its places were wrong. Lines that ``rules``, the
    attempt's rule set, does not know, such as the need for weight, are left out, and so
    is what is done by custom, which is no rule.
    """
    wrong = missed_keys(findings)
    asked = {each.key for each in rules.requirements if not each.by_custom}
    return {key: key in wrong for key in map(_rule_of, findings) if key in asked}


def requirement_called(key):
    """
    Return the requirement called ``key``, in the latest wording of a rule set that has it.

    Raise KeyError if there is none in any.
    """
    for name in rulebook.names():
        for book in reversed(rulebook.versions(name)):
            if book.has(key):
                return book.requirement(key)
    raise KeyError(_("No rule set has a requirement {key!r}.").format(key=key))


def rule_title(key):
    """Return the title of the requirement called ``key``; the key itself if there is none."""
    try:
        return requirement_called(key).title
    except KeyError:
        return key


def missed_rules(tallies, most):
    """
    Return the ``most`` MissedRules with most misses, of a queryset of rule ``tallies``.

    These are the PersonRuleTally of one person or the GroupRuleTally of one group.
    """
    found = tallies.filter(missed__gt=0).order_by("-missed", "asked", "rule")[:most]
    return [
        MissedRule(requirement_called(tally.rule), tally.missed, tally.asked) for tally in found
    ]
