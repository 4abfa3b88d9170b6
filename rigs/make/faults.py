"""
A legal rig spoilt in one requirement and in no other, by as much as the level says.

Exercises take their faults from here, and every one is put before the judge, so
that no answer is ever typed in.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from random import Random
from typing import Any

from rigs import requirements
from rigs.requirements.making import CannotMake, Making
from rigs.rules.judge import judge
from rigs.rules.rulebook import Rulebook
from rigs.words.gear import Footrope, Rig

from . import sample

_TRIES = 40
_TRIES_TOGETHER = 5


@dataclass(frozen=True)
class Draw:
    """
    How a rig is changed at random: under which rules, and how near their limits.

    ``level`` goes from 1 to 3: the higher, the nearer the miss. ``suits``, if given, is asked of
    each rig that would do, and may turn it down.
    """

    rng: Random
    rulebook: Rulebook
    level: int = 1
    suits: Callable[[Rig], bool] | None = None

    def making(self, rig: Rig, key: str, broken: bool, **asked: Any) -> Making:
        """Return what the requirement ``key`` is handed; ``asked`` as Making has it."""

        def sound(rope: Footrope) -> Rig:
            return sample.legal_rig(self.rng, self.rulebook, self.level, rope)

        rule = self.rulebook.requirement(key)
        return Making(rig, rule, self.rulebook, self.rng, self.level, broken, sound, **asked)

    def takes(self, rig: Rig) -> bool:
        """Return whether a ``rig`` that would do is taken."""
        return self.suits is None or self.suits(rig)


def spoilable(rulebook: Rulebook, rig: Rig | None = None, customs: bool = False) -> tuple[str, ...]:
    """
    Return the keys of the requirements of ``rulebook`` that can be broken singly.

    With a ``rig``, leave out those that do not bind a vessel of its length. What is done
    by custom is left out, unless ``customs`` asks for it: nobody breaks a rule by doing
    otherwise.
    """
    return tuple(
        r.key
        for r in rulebook.requirements
        if r.measure.breaks_alone
        and (customs or not r.by_custom)
        and (rig is None or r.applies_to(rig, None))
    )


def spoil(rig: Rig, key: str, draw: Draw) -> Rig:
    """
    Return ``rig`` changed so that it newly fails requirement ``key`` and nothing else.

    Raise CannotMake if none of many tries at random does so, as when a rig has no
    wing droppers to take away.
    """
    before = judge(rig, draw.rulebook).missed_keys
    measure, fault = requirements.find(key), draw.making(rig, key, broken=True)
    for _ in range(_TRIES):
        try:
            spoilt = measure.spoil(fault)
        except CannotMake:
            continue
        except (ValueError, IndexError) as error:
            raise CannotMake(key) from error
        fails_just_that = judge(spoilt, draw.rulebook).missed_keys == before | {key}
        if fails_just_that and draw.takes(spoilt):
            return spoilt
    raise CannotMake(key)


def spoil_many(rig: Rig, keys: Iterable[str], draw: Draw) -> Rig:
    """
    Return ``rig`` changed so that it newly fails each of ``keys`` and nothing else.

    No fault hides another or undoes it. Raise CannotMake if none of several tries does so,
    as when the keys gainsay each other.
    """
    # A new headrope comes with new floats, which would undo what was done to the old.
    ordered = sorted(keys, key=lambda key: not requirements.find(key).rehangs)
    for _ in range(_TRIES_TOGETHER):
        try:
            spoilt = rig
            for key in ordered:
                spoilt = spoil(spoilt, key, draw)
        except CannotMake:
            continue
        return spoilt
    raise CannotMake(", ".join(ordered))
