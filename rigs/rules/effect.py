"""What a new version of a rule set would change for one rig."""

from datetime import date
from typing import NamedTuple

from rigs.words.gear import Rig

from .judge import judge
from .outcomes import FAIL, NOT_MEASURED, PASS
from .rulebook import Rulebook


class VersionEffect(NamedTuple):
    """
    The keys of rules that come out otherwise.

    ``breaks`` were not broken before, ``keeps`` were and are no more, their rule being
    kept or gone; of ``untold`` it can no longer be said, since nobody measured it. What
    is done by custom is no rule, and is left out.
    """

    breaks: frozenset[str]
    keeps: frozenset[str]
    untold: frozenset[str]


def _outcomes(rig: Rig, book: Rulebook, day: date) -> dict[str, str]:
    return {finding.key: finding.outcome for finding in judge(rig, book, day).regulation}


def effect(rig: Rig, old: Rulebook, new: Rulebook) -> VersionEffect:
    """
    Return the VersionEffect on ``rig`` of the Rulebook ``new``, which takes over from ``old``.

    Both are asked for the first day of ``new``: what a rule's own dates would have
    changed that day anyway is no effect of the new version. Raise ValueError if ``old``
    would not have held on that day.
    """
    day = new.effective_from
    before, after = _outcomes(rig, old, day), _outcomes(rig, new, day)
    return VersionEffect(
        breaks=frozenset(
            key for key, told in after.items() if told == FAIL and before.get(key) != FAIL
        ),
        keeps=frozenset(
            key for key, told in before.items() if told == FAIL and after.get(key, PASS) == PASS
        ),
        untold=frozenset(
            key
            for key, told in after.items()
            if told == NOT_MEASURED and before.get(key) != NOT_MEASURED
        ),
    )
