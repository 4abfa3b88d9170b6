"""
Which steps of a plan must come before which, and which may change places.

All of it follows from ``Step.after``: what a step does not wait for, it may be done
before.
"""

from typing import NamedTuple

from .steps import Step


class Need(NamedTuple):
    """That ``first`` must be done before ``then``."""

    first: Step
    then: Step

    @property
    def key(self):
        return f"{self.first.key}-before-{self.then.key}"

    def is_met(self, keys):
        """Return whether the order ``keys``, of the keys of all steps, does it so."""
        return keys.index(self.first.key) < keys.index(self.then.key)


def _before(steps):
    """Return {key: keys of every step that must come before it, at whatever remove}."""
    waits = {step.key: set(step.after) for step in steps}
    found = {}

    def all_before(key):
        if key not in found:
            direct = waits[key] & set(waits)
            found[key] = direct.union(*map(all_before, direct))
        return found[key]

    for step in steps:
        all_before(step.key)
    return found


def needs(steps):
    """
    Return the Needs of ``steps``, each once and none that follows from two others.

    Whoever keeps these keeps every order that the steps ask for.
    """
    before = _before(steps)
    return tuple(
        Need(first, then)
        for then in steps
        for first in steps
        if first.key in before[then.key]
        and not any(first.key in before[between] for between in before[then.key])
    )


def may_swap(steps, one, other):
    """Return whether the steps with the keys ``one`` and ``other`` may be done either way round."""
    before = _before(steps)
    return one not in before[other] and other not in before[one]


def is_kept(steps, keys):
    """Return whether the order ``keys`` meets every need of ``steps``."""
    return all(need.is_met(keys) for need in needs(steps))
