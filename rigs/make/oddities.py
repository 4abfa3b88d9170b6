"""
Oddities that draw the eye, put on a rig: each seems to break a requirement, and breaks none.

Like faults they are put before the judge, and what he finds must not change by them.
"""

from collections.abc import Callable, Collection, Iterable
from random import Random

from rigs import requirements
from rigs.requirements.making import CannotMake
from rigs.requirements.oddity import Oddity
from rigs.rules.judge import judge
from rigs.rules.rulebook import Rulebook
from rigs.words.gear import Rig

_TRIES = 12

ODDITIES: dict[str, Oddity] = {
    each.name: each
    for each in sorted(odd for measure in requirements.all() for odd in measure.oddities)
}
"""Every one of them by its name, in the order in which they are dealt."""


def oddity(name: str) -> Oddity:
    """Return the one called ``name``; raise KeyError if there is none."""
    return ODDITIES[name]


def seeming(keys: Collection[str]) -> list[str]:
    """Return the names of those that seem to break one of ``keys``."""
    return [name for name, each in ODDITIES.items() if each.key in keys]


def apart_from(rulebook: Rulebook, keys: Collection[str]) -> list[str]:
    """Return the names of those that seem to break a law of ``rulebook`` other than ``keys``."""
    return [
        name
        for name, each in ODDITIES.items()
        if each.key not in keys
        and rulebook.has(each.key)
        and not rulebook.requirement(each.key).by_custom
    ]


def with_oddities(
    rig: Rig,
    names: Iterable[str],
    rng: Random,
    rulebook: Rulebook,
    suits: Callable[[Rig], bool] | None = None,
) -> tuple[Rig, tuple[str, ...]]:
    """
    Return (rig, names): ``rig`` with as many of ``names`` as can be had, and which those are.

    Each leaves every outcome that the judge finds as it was. ``suits``, if given, is asked of
    each rig that would do, and may turn it down.
    """
    had = []
    for name in names:
        for _ in range(_TRIES):
            odd = _tried(rig, name, rng, rulebook)
            if odd is not None and (suits is None or suits(odd)):
                rig = odd
                had.append(name)
                break
    return rig, tuple(had)


def _tried(rig: Rig, name: str, rng: Random, rulebook: Rulebook) -> Rig | None:
    try:
        odd = ODDITIES[name].make(rig, rng)
    except (CannotMake, ValueError):  # ValueError: no size is lighter, or none larger
        return None
    return odd if judge(odd, rulebook).missed_keys == judge(rig, rulebook).missed_keys else None
