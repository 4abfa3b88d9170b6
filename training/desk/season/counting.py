"""What there was at the end of a day of a season, counted from the rows themselves."""

from collections import defaultdict
from datetime import date
from typing import NamedTuple

from django.db.models import Count, Exists, Min, OuterRef, Q
from django.utils import timezone

from rigs.rules import rulebook
from training.certification.certificates import holding
from training.certification.models import Exam
from training.exercises.models import Attempt
from training.lessons.models import LessonRead
from training.people import sight
from training.people.models import Role, User
from training.recall.models import SetReading
from training.register import as_of, uptake_sums
from training.register.models import VesselDetails

from ..missed import requirement_called, rules_put
from . import dates
from .gone import gone_by

AT_ONCE = 500  # attempts read at a time


class RuleMissed(NamedTuple):
    """How many people were asked about a rule and how many missed it at least once."""

    title: str
    clause: str
    people: int
    missed: int


class SeasonCounts(NamedTuple):
    """
    What there was at the end of the day ``on``.

    ``vessels`` were on the register and still fished, ``cells`` (ConvertedShares) by harbor
    and size; ``converted`` of them fished without a sweep, ``came`` came to it in the season,
    once or more often. ``followed`` are conversion's. ``people`` train here, ``begun`` of
    them have read, practiced or started an exam, ``certified`` hold a valid certificate.
    """

    on: date
    vessels: int
    converted: int
    came: int
    cells: list
    followed: list
    people: int
    begun: int
    certified: int
    is_demo: bool


def count(user, season, on):
    """Return the SeasonCounts of what ``user`` looks after, at the end of the day ``on``."""
    fleet = as_of.fleet(user, on)
    cells = as_of.counts(fleet)
    vessels, converted = uptake_sums.total(cells)
    people = people_on(user, on).aggregate(
        people=Count("pk"),
        begun=Count("pk", filter=begun(on)),
        certified=Count("pk", filter=certified(on)),
        demo=Count("pk", filter=Q(pk__in=User.objects.filter(memberships__group__is_demo=True))),
    )
    return SeasonCounts(
        on=on,
        vessels=vessels,
        converted=converted,
        came=sum(each.is_fishing and each.came(season.first, on) for each in fleet),
        cells=cells,
        followed=as_of.conversion(fleet, on).followed,
        is_demo=bool(people.pop("demo")) or any(each.is_demo for each in fleet),
        **people,
    )


def _moment(on):
    # Of today no more than has been: what runs out tonight still holds.
    return min(as_of.end_of(on), timezone.now())


def people_on(user, on):
    """Return a queryset of the people in ``user``'s reach who trained here on the day ``on``."""
    moment = as_of.end_of(on)
    people = User.objects.filter(role__in=[Role.TRAINEE, Role.OFFICER])
    return sight.people_in_reach(people, user, moment).exclude(pk__in=_gone(moment))


def _gone(moment):
    return User.objects.filter(gone_by(moment)).values("pk")


def _of_person(rows, path):
    return rows.filter(**{path: OuterRef("pk")})


def certified(on):
    """Return the expression of whether a person held a valid certificate on the day ``on``."""
    return Exists(_of_person(holding(_moment(on)), "exam__user"))


def begun(on):
    """Return the expression of whether a person had read, practiced or begun an exam by then."""
    moment = _moment(on)
    return (
        Exists(_of_person(LessonRead.objects.filter(read_at__lt=moment), "user"))
        | Exists(_of_person(Attempt.objects.filter(handed_in__lt=moment), "assignment__user"))
        | Exists(_of_person(SetReading.objects.filter(answered__lt=moment), "set__user"))
        | Exists(_of_person(Exam.objects.filter(begun__lt=moment), "user"))
    )


def rules_missed(user, season, on):
    """
    Return a RuleMissed for each rule that was missed in the season up to the day ``on``.

    One walk over the exercises turned in then; each person counts once for a rule.
    """
    asked, missed = defaultdict(set), defaultdict(set)
    attempts = Attempt.objects.filter(
        handed_in__gte=as_of.end_of(season.eve),
        handed_in__lt=as_of.end_of(on),
        assignment__user__in=people_on(user, on).values("pk"),
    ).values_list(
        "assignment__user",
        "findings",
        "assignment__rulebook_name",
        "assignment__rulebook_version",
    )
    for person, findings, name, version in attempts.order_by().iterator(chunk_size=AT_ONCE):
        for rule, was_missed in rules_put(findings, rulebook.load(name, version)).items():
            asked[rule].add(person)
            if was_missed:
                missed[rule].add(person)
    found = []
    for key, people in missed.items():
        requirement = _requirement(key, on)
        found.append(
            RuleMissed(requirement.title, requirement.clause, len(asked[key]), len(people))
        )
    return sorted(found, key=lambda rule: (-rule.missed / rule.people, rule.title))


def _requirement(key, on):
    """Return the requirement called ``key`` as it was worded on the day ``on``."""
    for name in rulebook.names():
        book = rulebook.find_in_force(name, on)
        if book is not None and book.has(key):
            return book.requirement(key)
    return requirement_called(key)


def seasons(user, today, most):
    """
    Return the latest ``most`` Seasons of which there is something to tell, newest first.

    There is once a vessel is on the register or somebody trains here. A site that has just
    begun has the latest season alone.
    """
    latest = dates.latest(today)
    trained = sight.people_in_reach(User.objects.exclude(role=Role.STAFF), user)
    known = sight.rows(VesselDetails.objects.all(), user)
    begun = (
        known.aggregate(first=Min("since"))["first"],
        trained.aggregate(first=Min("joined"))["first"],
    )
    first = min((moment for moment in begun if moment is not None), default=None)
    if first is None:
        return [latest]
    found = (dates.season(latest.year - back) for back in range(most))
    return [each for each in found if each == latest or first < as_of.end_of(each.last)]
