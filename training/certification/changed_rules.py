"""Which rules are not what they were when somebody learned them."""

from datetime import date
from typing import NamedTuple

from rigs import rulebook
from rigs.rulebook import Requirement, Rulebook, RulebookError

NO_RULE = "no such rule"


class RuleChange(NamedTuple):
    """One rule: ``old`` is None where it is new, ``new`` where it no longer holds."""

    key: str
    old: Requirement | None
    new: Requirement | None

    @property
    def title(self):
        """What the rule is about."""
        return (self.new or self.old).title

    @property
    def before(self):
        """What was allowed, in the words of the deck."""
        return self.old.allowed_text if self.old else NO_RULE

    @property
    def now(self):
        """What is allowed now, in the words of the deck."""
        return self.new.allowed_text if self.new else NO_RULE


class BookChange(NamedTuple):
    """A rule set that moved on: its version as learned, the one in force, what differs."""

    old: Rulebook
    new: Rulebook
    rules: tuple[RuleChange, ...]


def _asks(requirement):
    """Return what ``requirement`` asks of a rig; its explanations are left out."""
    return (
        requirement.test,
        requirement.limit,
        requirement.slack,
        requirement.basis,
        requirement.vessel_over,
        requirement.vessel_up_to,
        requirement.effective_from,
        requirement.effective_to,
    )


def changed_rules(old, new):
    """
    Return the RuleChanges from the Rulebook ``old`` to ``new``, in the order of ``new``.

    A rule whose clause or explanation alone was worded anew has not changed.
    """
    keys = dict.fromkeys(rule.key for book in (new, old) for rule in book.requirements)
    pairs = [
        RuleChange(
            key,
            old.requirement(key) if old.has(key) else None,
            new.requirement(key) if new.has(key) else None,
        )
        for key in keys
    ]
    return tuple(
        pair
        for pair in pairs
        if pair.old is None or pair.new is None or _asks(pair.old) != _asks(pair.new)
    )


def changed_books(learned, on: date):
    """
    Return the BookChanges from ``learned``, rule set name to version, to the day ``on``.

    A rule set of which a later version asks just the same is not among them; neither
    is one that is no longer in force, since there is nothing to learn.
    """
    found = []
    for name, version in sorted(learned.items()):
        try:
            new = rulebook.in_force(name, on)
        except RulebookError:
            continue
        old = rulebook.load(name, version)
        if new.version != version and (rules := changed_rules(old, new)):
            found.append(BookChange(old, new, rules))
    return tuple(found)
