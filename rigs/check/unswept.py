"""Whether a check says that a net has no sweep, by a rule set that forbids one."""

from collections.abc import Iterable

from rigs.rules.judge import Finding
from rigs.rules.rulebook import Rulebook


def forbids_sweep(rulebook: Rulebook) -> bool:
    """Return whether a clause of ``rulebook`` forbids any sweep."""
    return any(each.measure.forbids_sweep and each.binds for each in rulebook.requirements)


def seen_without_sweep(met: Iterable[Finding], told: frozenset[str] = frozenset()) -> bool:
    """
    Return whether a sweep was looked for and there is none, by what was found to be ``met``.

    Never so under a rule set that allows one, whatever was written down, nor if it is among
    the questions ``told``: of which somebody said so and nobody looked.
    """
    return any(
        measure.forbids_sweep and not told & measure.asked.names
        for measure in (finding.requirement.measure for finding in met)
    )
