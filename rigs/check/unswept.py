"""Whether a check says that a net has no sweep, by a rule set that forbids one."""

from rigs.rules.judge import Verdict
from rigs.rules.rulebook import Rulebook


def forbids_sweep(rulebook: Rulebook) -> bool:
    """Return whether a clause of ``rulebook`` forbids any sweep."""
    return any(each.measure.forbids_sweep and each.binds for each in rulebook.requirements)


def seen_without_sweep(verdict: Verdict) -> bool:
    """
    Return whether a sweep was looked for and there is none.

    Never so under a rule set that allows one, whatever was written down.
    """
    return any(finding.requirement.measure.forbids_sweep for finding in verdict.passed)
