"""Which rules people get wrong."""

from collections import Counter
from typing import NamedTuple

from rigs import rulebook
from rigs.rulebook import Requirement


class MissedRule(NamedTuple):
    """In how many of the attempts that put a rule to the test it was got wrong."""

    requirement: Requirement
    missed: int
    asked: int

    @property
    def percent(self):
        return round(100 * self.missed / self.asked)


def _rule_of(line):
    """Return the key of a line's requirement; one for one side alone has the side behind it."""
    return line["key"].partition(":")[0]


def missed_keys(findings):
    """Return the keys of the ``findings`` of one attempt that were got wrong, once each."""
    return {_rule_of(line) for line in findings if not line["right"]}


def missed_rules(attempts, most=None):
    """
    Return the MissedRules of a queryset of ``attempts``, the most missed first.

    An attempt counts once for a rule, however many of its places were wrong. Lines that
    no rule set knows, such as the need for weight in an exercise, are left out. ``most``
    is how many to return, None for all that were ever missed.
    """
    asked, missed, wording = Counter(), Counter(), {}
    rows = attempts.values_list(
        "findings", "assignment__rulebook_name", "assignment__rulebook_version"
    )
    # In the order they were made, so that the latest wording of a rule is the one kept.
    for findings, name, version in rows.order_by("pk").iterator(chunk_size=500):
        rules = rulebook.load(name, version)
        wrong = missed_keys(findings)
        for key in {_rule_of(line) for line in findings}:
            if rules.has(key):
                wording[key] = rules.requirement(key)
                asked[key] += 1
                missed[key] += key in wrong
    found = [MissedRule(wording[key], missed[key], asked[key]) for key in asked if missed[key]]
    found.sort(key=lambda rule: (-rule.missed, rule.asked, rule.requirement.title))
    return found[:most]
