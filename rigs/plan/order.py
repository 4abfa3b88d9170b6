"""
Which steps of a plan must come before which, and which may change places.

All of it follows from ``PlanStep.after``: what a step does not wait for, it may be done
before.
"""

from collections.abc import Sequence
from typing import NamedTuple

from rigs.words.say import gettext as _
from rigs.words.say import gettext_lazy

from .steps import CUTTING, ROPES, PlanStep

READY = PlanStep(
    "ready",
    "cut",
    gettext_lazy("Put on goggles and gloves, clear the netting, have water at hand"),
    CUTTING,
    gettext_lazy("The first cut can be the one that hurts, or sets netting on fire."),
)
"""What comes before any cut. A plan warns of it in each step that cuts."""

_LATER = {
    "mark_sweep": gettext_lazy("Without the marks nobody can put the sweep back where it was."),
    "mark_places": gettext_lazy("A dropper is hung at its mark."),
    "cut_sweep": gettext_lazy("While the sweep is on, the droppers' lower ends hang on it."),
    "take_off": gettext_lazy("What is good among the old droppers goes back on, in other places."),
    "cut_down": gettext_lazy("A dropper is measured and cut before it goes to its new place."),
    "check": gettext_lazy(
        "What is wrong takes minutes to fix at the dock. At sea it costs the trip."
    ),
}


class Need(NamedTuple):
    """That ``first`` must be done before ``then``."""

    first: PlanStep
    then: PlanStep

    @property
    def key(self) -> str:
        return f"{self.first.key}-before-{self.then.key}"

    @property
    def why(self) -> str:
        """Why ``first`` comes first, as a sentence."""
        if self.then.key == "check":
            return _("Check the net as it will fish. What changes after the check goes unchecked.")
        if self.first.key.removeprefix("set_") in ROPES:
            return _("A rope that is changed later moves every place along it.")
        return _LATER.get(self.first.key, self.first.why)

    def is_met(self, keys: Sequence[str]) -> bool:
        """Return whether the order ``keys``, of the keys of all steps, does it so."""
        return keys.index(self.first.key) < keys.index(self.then.key)


def with_ready(steps: Sequence[PlanStep]) -> tuple[PlanStep, ...]:
    """
    Return ``steps`` with READY before the first that cuts, each of which waits for it.

    A plan has no such step of its own, only a warning at each that cuts.
    """
    first = next((i for i, step in enumerate(steps) if step.caution), None)
    if first is None:
        return tuple(steps)
    waiting = [
        step._replace(after=(*step.after, READY.key)) if step.caution else step for step in steps
    ]
    return (*waiting[:first], READY, *waiting[first:])


def _before(steps: Sequence[PlanStep]) -> dict[str, set[str]]:
    """Return {key: keys of every step that must come before it, at whatever remove}."""
    waits = {step.key: set(step.after) for step in steps}
    found: dict[str, set[str]] = {}

    def all_before(key: str) -> set[str]:
        if key not in found:
            direct = waits[key] & set(waits)
            found[key] = direct.union(*map(all_before, direct))
        return found[key]

    for step in steps:
        all_before(step.key)
    return found


def needs(steps: Sequence[PlanStep]) -> tuple[Need, ...]:
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


def may_swap(steps: Sequence[PlanStep], one: str, other: str) -> bool:
    """Return whether the steps with the keys ``one`` and ``other`` may be done either way round."""
    before = _before(steps)
    return one not in before[other] and other not in before[one]


def is_kept(steps: Sequence[PlanStep], keys: Sequence[str]) -> bool:
    """Return whether the order ``keys`` meets every need of ``steps``."""
    return all(need.is_met(keys) for need in needs(steps))
