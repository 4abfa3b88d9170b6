"""Which rules are not what they were when somebody learned them."""

from datetime import date
from typing import NamedTuple

from rigs.rules import rulebook
from rigs.rules.changes import RuleChange, changed_rules
from rigs.rules.rulebook import Rulebook


class BookChange(NamedTuple):
    """A rule set that moved on: its version as learned, the one in force, what differs."""

    old: Rulebook
    new: Rulebook
    rules: tuple[RuleChange, ...]


def changed_books(learned, on: date):
    """
    Return the BookChanges from ``learned``, rule set name to version, to the day ``on``.

    A rule set of which a later version asks just the same is not among them; neither
    is one that is no longer in force, since there is nothing to learn.
    """
    found = []
    for name, version in sorted(learned.items()):
        new = rulebook.find_in_force(name, on)
        if new is None:
            continue
        old = rulebook.load(name, version)
        if new.version != version and (rules := changed_rules(old, new)):
            found.append(BookChange(old, new, rules))
    return tuple(found)
