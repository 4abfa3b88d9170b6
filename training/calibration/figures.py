"""
How officers' calls on the rigs of one round stand to the rule module and to each other.

A verdict "cannot tell" is a verdict of its own, which the rule module never gives: it
never agrees with it. The rules of a rig that an officer could not tell are left open and
count neither for nor against.
"""

from collections.abc import Hashable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import combinations
from math import nan

import numpy as np
from django.utils.translation import gettext as _

from rigs.statistics.agreement import Calling, Share, calling, share
from rigs.statistics.facets import FEWEST_JUDGES, Reach, share_reach
from rigs.statistics.interval import Interval
from rigs.statistics.kappa import Kappa, cohen_kappa, cross_table, mutual_kappa, pooled_kappa

from .making import RoundRig
from .models import Call

PASSES, FAILS, UNSURE = Call.Verdict.PASSES, Call.Verdict.FAILS, Call.Verdict.UNSURE
VERDICTS = (PASSES, FAILS, UNSURE)
CALLS = (False, True)  # does not fail, fails


@dataclass(frozen=True)
class OfficerFigures:
    """
    One officer against the rule module, over all rigs of a round.

    ``right`` and ``kappa`` are of the verdicts, ``calling`` of the rules; ``unsure`` is
    how many rigs the officer could not tell.
    """

    officer: Hashable
    right: Share
    kappa: Kappa
    calling: Calling
    unsure: int


@dataclass(frozen=True)
class RuleFigures:
    """
    One rule, over the calls of one officer or of several.

    ``reach`` is that of the share right, None of one officer, whose share has its own
    intervals. ``among`` is Fleiss' kappa of the officers with each other, None of one alone or
    where every rig was left open by somebody. ``kappa`` and ``reach`` are None where nobody
    called the rule at all.
    """

    requirement: object
    calling: Calling
    reach: Reach | None
    kappa: Kappa | None
    among: Kappa | None = None

    @property
    def interval(self) -> Interval | None:
        """The Interval of the share right."""
        return self.reach.interval if self.reach else self.calling.agreed.wilson


@dataclass(frozen=True)
class PairFigures:
    """Two officers' verdicts against each other."""

    first: Hashable
    second: Hashable
    agreed: Share
    kappa: Kappa


def so(rig):
    """Return the verdict that the rule module gives on ``rig``, a RoundRig."""
    return PASSES if rig.verdict.legal else FAILS


def _reach(said, right):
    """Return the Reach of the share right of what several officers ``said``, None of one."""
    if len(said) == 1:
        return None
    rows = [
        [nan if claimed is None else claimed == is_so for claimed, is_so in pairs]
        for pairs in (zip(of_one, right, strict=True) for of_one in said)
    ]
    return share_reach(np.array(rows, dtype=float))


class Figures:
    """
    The figures of one round.

    ``said`` maps each officer to a mapping of rig number to Call, with every rig in it.
    Raise ValueError if there is nobody or a rig is missing.
    """

    def __init__(self, rigs: Sequence[RoundRig], said: Mapping[Hashable, Mapping[int, Call]]):
        if not said:
            raise ValueError(_("Nobody has judged."))
        if any(rig.number not in calls for calls in said.values() for rig in rigs):
            raise ValueError(_("Only whole rounds can be compared."))
        self.rigs, self.said = rigs, said
        self.officers = list(said)

    def verdicts(self, officer):
        """Return the officer's verdicts, rig by rig."""
        return [self.said[officer][rig.number].verdict for rig in self.rigs]

    @cached_property
    def _said(self):
        return [self.verdicts(officer) for officer in self.officers]

    @cached_property
    def _right(self):
        return [so(rig) for rig in self.rigs]

    def calls(self, officer):
        """Yield (rule's key, rig number, said to fail, does fail) of all rigs not left open."""
        for rig in self.rigs:
            call = self.said[officer][rig.number]
            if call.verdict == UNSURE:
                continue
            for finding in rig.verdict.regulation:
                yield finding.key, rig.number, finding.key in call.failing, finding.failed

    # against the rule module

    @cached_property
    def by_officer(self):
        """The OfficerFigures, in the order of the officers."""
        return [self._officer(officer) for officer in self.officers]

    def _officer(self, officer):
        said, right = self.verdicts(officer), self._right
        return OfficerFigures(
            officer=officer,
            right=share(sum(map(str.__eq__, said, right)), len(right)),
            kappa=cohen_kappa(cross_table(said, right, VERDICTS)),
            calling=calling((claimed, fails) for __, __, claimed, fails in self.calls(officer)),
            unsure=said.count(UNSURE),
        )

    @property
    def for_others(self):
        """Whether there are officers enough to say anything of others like them."""
        return len(self.officers) >= FEWEST_JUDGES

    @cached_property
    def kappa(self):
        """All officers' verdicts against the rule module's, as one Kappa."""
        return pooled_kappa(self._said, self._right, VERDICTS)

    @cached_property
    def right(self):
        """The Share of all officers' verdicts that agree with the rule module."""
        shares = [each.right for each in self.by_officer]
        return share(sum(each.count for each in shares), sum(each.of for each in shares))

    @cached_property
    def right_reach(self):
        """The Reach of ``right``, None of one officer alone."""
        return _reach(self._said, self._right)

    @property
    def right_interval(self):
        """The Interval of ``right``, None where it has none."""
        return self.right_reach.interval if self.right_reach else self.right.wilson

    @cached_property
    def astray(self):
        """The Share of rigs on which any officer's verdict is not the rule module's."""
        of_rigs = zip(self._right, zip(*self._said, strict=True), strict=True)
        return share(sum(set(said) != {right} for right, said in of_rigs), len(self.rigs))

    @cached_property
    def split(self):
        """The Share of rigs on which the officers' verdicts are not all the same."""
        of_rigs = zip(*self._said, strict=True)
        return share(sum(len(set(said)) > 1 for said in of_rigs), len(self.rigs))

    @cached_property
    def calling(self):
        """All officers' calls on all rules, as one Calling."""
        return calling(
            (claimed, fails)
            for officer in self.officers
            for __, __, claimed, fails in self.calls(officer)
        )

    # rule by rule

    @cached_property
    def by_rule(self):
        """The RuleFigures of every rule that binds a rig, over all officers."""
        return self._rules(self.officers)

    def of_one(self, officer):
        """Return the RuleFigures of one officer."""
        return self._rules([officer])

    def _rules(self, officers):
        binding = {finding.key for rig in self.rigs for finding in rig.verdict.regulation}
        return [
            self._rule(requirement, officers)
            for requirement in self.rigs[0].verdict.rulebook.requirements
            if requirement.key in binding
        ]

    def _rule(self, requirement, officers):
        binding = [
            (rig, finding.failed)
            for rig in self.rigs
            for finding in rig.verdict.regulation
            if finding.key == requirement.key
        ]
        fails = [failed for __, failed in binding]
        said = [
            [self._claim(officer, rig, requirement.key) for rig, __ in binding]
            for officer in officers
        ]
        pairs = [
            pair for of_one in said for pair in zip(of_one, fails, strict=True) if None not in pair
        ]
        counted = calling(pairs)
        if not pairs:
            return RuleFigures(requirement, counted, None, None)
        return RuleFigures(
            requirement,
            counted,
            _reach(said, fails),
            pooled_kappa(said, fails, CALLS),
            mutual_kappa(said, CALLS) if len(officers) > 1 else None,
        )

    def _claim(self, officer, rig, key):
        call = self.said[officer][rig.number]
        return None if call.verdict == UNSURE else key in call.failing

    # among themselves

    @cached_property
    def among(self):
        """Fleiss' Kappa of the officers' verdicts, None of one officer alone."""
        if len(self.officers) < 2:
            return None
        return mutual_kappa(self._said, VERDICTS)

    @cached_property
    def pairs(self):
        """The PairFigures of every two officers."""
        said = {officer: self.verdicts(officer) for officer in self.officers}
        return [
            PairFigures(
                first,
                second,
                share(sum(map(str.__eq__, said[first], said[second])), len(self.rigs)),
                cohen_kappa(cross_table(said[first], said[second], VERDICTS)),
            )
            for first, second in combinations(self.officers, 2)
        ]
