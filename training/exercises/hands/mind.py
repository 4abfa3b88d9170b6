"""What goes on in a modelled person who answers tasks: what is known, guessed and slipped on."""

import random
from collections.abc import Mapping
from dataclasses import dataclass, field
from math import exp
from typing import NamedTuple

from . import looks

ALL = "all"
"""Everything is known."""


class Slips(NamedTuple):
    """
    How often something known is got wrong all the same.

    ``reading`` is of one reading, by level; ``missed`` of a broken rule on a whole rig, by
    level, ``claimed`` of a rule met on one; ``work`` of whatever is counted, hung or ordered,
    by level.
    """

    reading: Mapping[int, float]
    missed: Mapping[int, float]
    claimed: float
    work: Mapping[int, float]

    def times(self, factor):
        """Return the same with everything ``factor`` times as often, but never over half."""

        def by_level(shares):
            return {level: min(share * factor, 0.5) for level, share in shares.items()}

        return Slips(
            by_level(self.reading),
            by_level(self.missed),
            min(self.claimed * factor, 0.5),
            by_level(self.work),
        )


# Assumptions, no source. A near miss is misread more often than a wide one; on a whole rig a
# broken rule is passed over now and then, and a rule that is met is hardly ever called broken.
SLIPS = Slips(
    reading={1: 0.01, 2: 0.02, 3: 0.03},
    missed={1: 0.03, 2: 0.04, 3: 0.05},
    claimed=0.003,
    work={1: 0.03, 2: 0.05, 3: 0.08},
)

GUESSED_WITHIN = 0.4
"""How wide people who do not know a limit guess: the standard deviation of the natural
logarithm of guess over limit, so that two in three guess between 0.67 and 1.5 times the limit
(an assumption, no source)."""


def identity(requirement):
    """Return what one has to know of ``requirement``: the rule and its limit, under any rules."""
    return requirement.key, requirement.limit


@dataclass(frozen=True)
class Mind:
    """
    A modelled person.

    ``known`` holds what is known, as ``identity`` has it, or is ALL, or None: then each
    thing is known by chance, as often as ``share`` has it, and the same thing always. One who
    is ``directed`` knows which way each rule points, and so what the title of a rule tells.
    ``believed`` are limits in SI that the person takes for true without knowing, by identity;
    ``by_looks`` whether what differs from its fellows on a rig is taken for broken. ``fixed``
    maps (kind, level, rule set) to a raw answer that is given without looking, ``ways`` names
    functions of ``ways`` by which an exam is read as a whole before it is answered.
    """

    seed: int = 0
    known: object = None
    share: float = 0.0
    directed: bool = True
    slips: Slips = SLIPS
    believed: Mapping = field(default_factory=dict)
    by_looks: bool = True
    naive: bool = False
    fixed: Mapping = field(default_factory=dict)
    ways: tuple[str, ...] = ()

    def _own(self, what):
        """Return random numbers of this person's own about ``what``, the same each time."""
        return random.Random(f"{self.seed}/{what}")

    def knows(self, what):
        """
        Return whether ``what`` is known: a Requirement, or a skill by its name.

        A skill comes with the rules: it is known as often as they are.
        """
        if self.known == ALL:
            return True
        name = what if isinstance(what, str) else identity(what)
        if self.known is None or isinstance(what, str):
            return self._own(name).random() < self.share
        return name in self.known

    def slips_on(self, chance, rng):
        return rng.random() < chance

    def limit(self, requirement):
        """Return the limit in SI that somebody who does not know it goes by."""
        found = self.believed.get(identity(requirement))
        if found is not None:
            return found
        return requirement.limit * exp(
            GUESSED_WITHIN * self._own(("limit", *identity(requirement))).gauss(0, 1)
        )

    def reading_breaks(self, finding, level, rng):
        """Return whether the person calls the one reading of ``finding`` broken."""
        requirement = finding.requirement
        if not self.directed and not self.knows(requirement):
            return rng.random() < 0.5
        if self.knows(requirement) or requirement.is_plain:
            return finding.failed is not self.slips_on(self.slips.reading[level], rng)
        if finding.measured is None:
            return True
        return self.past(finding.measured, requirement)

    def past(self, value, requirement):
        """Return whether ``value`` in SI is past the limit that the person goes by."""
        limit = self.limit(requirement)
        return value > limit if requirement.is_upper else value < limit

    def part_breaks(self, rig, finding, level, rng):
        """Return whether the person calls a rule broken on a whole rig."""
        requirement = finding.requirement
        if self.naive and not requirement.is_plain:
            return looks.differs(rig, requirement, any_way=True)
        if self.knows(requirement) or (self.directed and requirement.is_plain):
            chance = self.slips.missed[level] if finding.failed else self.slips.claimed
            return finding.failed is not self.slips_on(chance, rng)
        if not self.directed:
            return rng.random() < 0.5
        if identity(requirement) in self.believed and finding.measured is not None:
            return self.past(finding.measured, requirement)
        return self.by_looks and looks.differs(rig, requirement)
