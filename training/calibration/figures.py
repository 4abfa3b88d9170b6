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

import numpy as np
from django.utils.translation import gettext as _

from rigs.statistics.agreement import (
    Calling,
    Kappa,
    Share,
    calling,
    category_counts,
    cohen_kappa,
    cross_table,
    fleiss_kappa,
    pooled_kappa,
    share,
)
from rigs.statistics.interval import Interval, ratio

from .making import RoundRig
from .models import Call

PASSES, FAILS, UNSURE = Call.Verdict.PASSES, Call.Verdict.FAILS, Call.Verdict.UNSURE
VERDICTS = (PASSES, FAILS, UNSURE)
CALLS = (False, True)  # does not fail, fails

TELLS_NOTHING = 1e-9  # a standard error below it is nought but for rounding


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

    ``interval`` is that of the share right; of several officers it is by rig, since their
    calls on one rig are alike, and None if rigs do not differ. ``among`` is Fleiss' kappa
    of the officers with each other, None of one alone or where every rig was left open by
    somebody. ``kappa`` is None where nobody called the rule at all.
    """

    requirement: object
    calling: Calling
    interval: Interval | None
    kappa: Kappa | None
    among: Kappa | None = None


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


def interval_of(kappa):
    """
    Return the Interval of ``kappa``, None where it tells nothing; no end of it is over 1.

    With all calls alike, or all in agreement, the standard error comes out as nought: these
    rigs do not tell how far the figure would move with others.
    """
    if kappa.standard_error is None or kappa.standard_error < TELLS_NOTHING:
        return None
    low, high = kappa.interval
    return Interval(low, min(high, 1.0))  # a normal interval can pass full agreement


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
        said, right = self.verdicts(officer), [so(rig) for rig in self.rigs]
        return OfficerFigures(
            officer=officer,
            right=share(sum(map(str.__eq__, said, right)), len(right)),
            kappa=cohen_kappa(cross_table(said, right, VERDICTS)),
            calling=calling((claimed, fails) for __, __, claimed, fails in self.calls(officer)),
            unsure=said.count(UNSURE),
        )

    @cached_property
    def kappa(self):
        """All officers' verdicts against the rule module's, as one Kappa."""
        right = [so(rig) for rig in self.rigs]
        said = [self.verdicts(officer) for officer in self.officers]
        return pooled_kappa(
            [
                cross_table(of_one, [truth] * len(of_one), VERDICTS)
                for truth, of_one in zip(right, zip(*said, strict=True), strict=True)
            ]
        )

    @cached_property
    def right(self):
        """The Share of all officers' verdicts that agree with the rule module."""
        shares = [each.right for each in self.by_officer]
        return share(sum(each.count for each in shares), sum(each.of for each in shares))

    @cached_property
    def right_interval(self):
        """The Interval of ``right`` by rig, None if no rig differs from the others."""
        said = [self.verdicts(officer) for officer in self.officers]
        right = [
            of_one.count(so(rig))
            for rig, of_one in zip(self.rigs, zip(*said, strict=True), strict=True)
        ]
        return ratio(right, [len(said)] * len(right))[1]

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
        calls = {key: {} for key in binding}
        for officer in officers:
            for key, number, claimed, fails in self.calls(officer):
                calls[key].setdefault(number, []).append((claimed, fails))
        return [
            self._rule(requirement, calls[requirement.key], officers)
            for requirement in self.rigs[0].verdict.rulebook.requirements
            if requirement.key in binding
        ]

    def _rule(self, requirement, of_rigs, officers):
        counted = calling(pair for pairs in of_rigs.values() for pair in pairs)
        if not of_rigs:
            return RuleFigures(requirement, counted, None, None)
        tables = [
            cross_table([claimed for claimed, __ in pairs], [fails for __, fails in pairs], CALLS)
            for pairs in of_rigs.values()
        ]
        if len(officers) == 1:
            kappa, interval = cohen_kappa(np.sum(tables, axis=0)), counted.agreed.wilson
            return RuleFigures(requirement, counted, interval, kappa)
        right = [sum(claimed is fails for claimed, fails in pairs) for pairs in of_rigs.values()]
        __, interval = ratio(right, [len(pairs) for pairs in of_rigs.values()])
        among = self._among(requirement.key)
        return RuleFigures(requirement, counted, interval, pooled_kappa(tables), among)

    def _among(self, key):
        """Return Fleiss' kappa of the officers on one rule, None if no rig can be compared."""
        ratings = [
            [self._claim(officer, rig, key) for officer in self.officers]
            for rig in self.rigs
            if any(finding.key == key for finding in rig.verdict.regulation)
        ]
        counts, __ = category_counts(ratings, CALLS)
        return fleiss_kappa(counts) if len(counts) else None

    def _claim(self, officer, rig, key):
        call = self.said[officer][rig.number]
        return None if call.verdict == UNSURE else key in call.failing

    # among themselves

    @cached_property
    def among(self):
        """Fleiss' Kappa of the officers' verdicts, None of one officer alone."""
        if len(self.officers) < 2:
            return None
        said = [self.verdicts(officer) for officer in self.officers]
        counts, __ = category_counts(zip(*said, strict=True), VERDICTS)
        return fleiss_kappa(counts)

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
