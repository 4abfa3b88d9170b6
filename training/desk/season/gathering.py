"""What a season report tells, counted, with small counts kept back."""

from datetime import date
from typing import NamedTuple

from django.db.models import Q, Sum

from rigs.rules import rulebook
from training.deck.suppression import SMALLEST, shown
from training.evidence.pooled import Evidence, evidence
from training.people import sight
from training.people.models import Role, User
from training.register import conversion, uptake_sums
from training.register.models import Vessel
from training.register.sizes import SIZES

from ..missed import requirement_called
from ..models import GroupRuleTally, PersonTally
from ..trainees import certified
from . import telling
from .dates import Season

MOST_RULES = 6
FEWEST_FOLLOWED = 4 * SMALLEST
"""As many vessels as a curve is drawn of: each step of it is somebody's."""


class GroupUptake(NamedTuple):
    """A harbor or size: how many vessels, and how many converted, None if kept back."""

    name: str
    vessels: int
    converted: int | None


class RuleMissed(NamedTuple):
    """How many people were asked about a rule and how many missed it at least once."""

    title: str
    clause: str
    people: int
    missed: int


class Training(NamedTuple):
    """People who train; each count may be None, kept back."""

    people: int | None
    begun: int | None
    certified: int | None


class Report(NamedTuple):
    """
    All that a report tells, as it stood on the day ``on``.

    ``came`` is how many converted within the season, None if kept back; ``harbors`` is
    whose vessels it is about, None for the whole fleet. ``followed`` are conversion's, []
    if there are too few to draw.
    """

    season: Season
    on: date
    harbors: list | None
    vessels: int
    converted: int | None
    came: int | None
    by_harbor: list[GroupUptake]
    by_size: list[GroupUptake]
    followed: list
    training: Training
    rules: list[RuleMissed]
    evidence: Evidence
    rulebooks: list
    is_demo: bool


def gather(user, season, today):
    """Return the Report of ``season`` on what ``user`` looks after, as of ``today``."""
    cells = uptake_sums.counts(user)
    vessels, converted = uptake_sums.total(cells)
    harbors = sight.harbors_of(user)
    followed = conversion.conversion(user, today).followed
    return Report(
        season=season,
        on=today,
        harbors=sorted(harbors) if harbors else None,
        vessels=vessels,
        converted=telling.whole(converted, vessels),
        came=_came(user, season, today),
        by_harbor=_groups(cells, "harbor", {}),
        by_size=_groups(cells, "size", {size.key: size.words.capitalize() for size in SIZES}),
        followed=followed if len(followed) >= FEWEST_FOLLOWED else [],
        training=_training(user),
        rules=_rules(harbors),
        evidence=evidence(),
        rulebooks=[rulebook.in_force(name, today) for name in rulebook.gear_names(today)],
        is_demo=sight.rows(Vessel.objects.filter(is_demo=True), user).exists(),
    )


def _came(user, season, today):
    """Return how many came to fish without a sweep in the season's months, None if few."""
    found = uptake_sums.uptake(user, today)
    row = found.rows[uptake_sums.Stage.CONVERTED]
    first, last = season.first.replace(day=1), season.last
    return shown(
        sum(
            count
            for month, count in zip(found.months, row.entered, strict=True)
            if first <= month <= last
        )
    )


def _groups(cells, field, names):
    groups = uptake_sums.grouped(cells, field)
    told = telling.parts(groups)
    return [GroupUptake(names.get(key, key), groups[key][0], told[key]) for key in groups]


def _training(user):
    people = sight.rows(User.objects.filter(role__in=[Role.TRAINEE, Role.OFFICER]), user)
    tallies = PersonTally.objects.filter(user__in=people.values("pk"))
    count = people.count()
    begun = tallies.filter(Q(lessons_read__gt=0) | Q(attempts__gt=0)).count()
    holding = people.filter(certified()).count()
    if shown(count) is None:
        return Training(None, None, None)
    return Training(count, telling.whole(begun, count), telling.whole(holding, count))


def _rules(harbors):
    """Return the Rules that the largest share of people missed, small counts left out."""
    tallies = GroupRuleTally.objects.all()
    if harbors is not None:
        tallies = tallies.filter(group__harbor__in=harbors)
    sums = tallies.order_by().values("rule").annotate(Sum("people"), Sum("people_missed"))
    found = []
    for key, people, missed in sums.values_list("rule", "people__sum", "people_missed__sum"):
        if missed and telling.whole(missed, people) is not None:
            requirement = requirement_called(key)
            found.append(RuleMissed(requirement.title, requirement.clause, people, missed))
    found.sort(key=lambda rule: (-rule.missed / rule.people, rule.title))
    return found[:MOST_RULES]
