"""Which rules are missed, and in which groups: a table of shares, fair where numbers allow."""

import math
from collections import Counter, defaultdict
from typing import NamedTuple

from django.db.models import Count, Sum
from django.utils.translation import gettext as _

from rigs.rules.rulebook import Requirement
from rigs.statistics.interval import Interval, clopper_pearson
from training.deck.plain import percent_sign
from training.deck.suppression import SMALLEST
from training.people.models import Group, Membership

from .missed import requirement_called
from .models import GroupRuleTally, PersonRuleTally

# Shares from which each shade begins; common practice, no source.
SHADES = (0.0, 0.1, 0.2, 0.35, 0.5)

# What a cell sums up.
SUMS = ("asked", "missed", "people", "people_missed")


class HeatCell(NamedTuple):
    """
    How often a rule was missed: ``missed`` of ``asked`` attempts, by ``people``.

    ``people_missed`` of the people missed it at least once.
    """

    asked: int
    missed: int
    people: int
    people_missed: int

    @property
    def is_fair(self):
        """Whether enough people were asked for the share to say something of the group."""
        return self.people >= SMALLEST

    @property
    def share(self):
        return self.missed / self.asked

    @property
    def percent(self):
        return percent_sign(self.share)

    @property
    def shade(self):
        """The number of the shade, from 0 for the lightest."""
        return sum(self.share >= begin for begin in SHADES) - 1

    @property
    def interval(self):
        """
        The Interval of the share, exact (Clopper and Pearson), as wide as can be justified.

        One person's attempts are alike, and how alike is not known: each person counts as
        one trial, as if they were all the same. Of two whole numbers of people about the
        share the lower gives the low end and the higher the high one.
        """
        hits = self.share * self.people
        # Rounded first, or a share of 1/3 of 3 people would come to a little more than 1.
        low, high = math.floor(round(hits, 9)), math.ceil(round(hits, 9))
        return Interval(
            clopper_pearson(low, self.people).low, clopper_pearson(high, self.people).high
        )

    @property
    def interval_text(self):
        return _("{low} to {high}").format(
            low=percent_sign(self.interval.low), high=percent_sign(self.interval.high)
        )


class RuleHeat(NamedTuple):
    """A rule: its HeatCell in all groups together, and that of each of some, or None."""

    requirement: Requirement
    overall: HeatCell
    cells: list[tuple[Group, HeatCell | None]]


def _cells(tallies):
    return HeatCell(*(tallies[name] for name in SUMS))


def _counted_again(groups):
    """
    Return what the sums of ``groups`` have more than once, Counter of SUMS by rule.

    It is what those add who are in several of them, once for each group but the first.
    """
    members = Membership.objects.filter(group__in=groups).order_by()
    times = dict(
        members.values_list("user").annotate(times=Count("pk")).filter(times__gt=1).order_by()
    )
    several = members.values("user").annotate(times=Count("pk")).filter(times__gt=1)
    shares = PersonRuleTally.objects.filter(user__in=several.values("user"))
    found = defaultdict(Counter)
    for user, rule, asked, missed in shares.values_list("user", "rule", "asked", "missed"):
        share = {"asked": asked, "missed": missed, "people": 1, "people_missed": missed > 0}
        for name, number in share.items():
            found[rule][name] += number * (times[user] - 1)
    return found


def overall(groups):
    """
    Return the HeatCell by rule of the people of ``groups``, a queryset, each counted once.

    Three queries, of which only those who are in several groups are looked at one by one.
    """
    groups = groups.order_by().values("pk")
    totals = GroupRuleTally.objects.filter(people__gt=0, group__in=groups).order_by()
    again = _counted_again(groups)
    return {
        row["rule"]: _cells({name: row[name] - again[row["rule"]][name] for name in SUMS})
        for row in totals.values("rule").annotate(**{name: Sum(name) for name in SUMS})
    }


def lines(groups, shown):
    """
    Return the Lines of all rules, the most missed first, in four queries.

    ``groups`` is a queryset of those that count overall, ``shown`` a list of those that
    get a cell. Rules that too few people were asked come last. Somebody who is in two
    groups is in the cells of both, and overall once.
    """
    tallies = GroupRuleTally.objects.filter(people__gt=0)
    by_place = {
        (row["rule"], row["group"]): _cells(row)
        for row in tallies.filter(group__in=shown).values("rule", "group", *SUMS)
    }
    found = [
        RuleHeat(
            requirement_called(rule),
            cell,
            [(group, by_place.get((rule, group.pk))) for group in shown],
        )
        for rule, cell in overall(groups).items()
    ]
    found.sort(
        key=lambda line: (not line.overall.is_fair, -line.overall.share, line.requirement.title)
    )
    return found
