"""Who trains, and how far each has come."""

from itertools import islice
from typing import NamedTuple

from django.db.models import Count, Q
from django.utils import timezone

from training.certification.holders import CertificateState, certificate_states
from training.deck.passing import in_lots
from training.people.models import Group, Role, User, with_groups

from .models import PersonTally
from .way import course_of

PEOPLE_AT_ONCE = 500  # read together for a download

TRAINED = (Role.TRAINEE, Role.OFFICER)


class TraineeRow(NamedTuple):
    """One person on the list; ``lessons`` is how many his course has."""

    person: User
    groups: list[Group]
    tally: PersonTally
    lessons: int
    certificate: CertificateState

    @property
    def is_demo(self):
        return any(group.is_demo for group in self.groups)


def people(group=None, text="", among=None):
    """
    Return the trainees and officers, by name, or those ``among`` other people.

    Those of ``group`` alone if one is given, and those with every word of ``text`` in
    their name or e-mail address.
    """
    found = User.objects.filter(role__in=TRAINED) if among is None else among
    if group is not None:
        found = found.filter(memberships__group=group)
    for word in text.split():
        found = found.filter(Q(name__icontains=word) | Q(email__icontains=word))
    return found


def certified(now=None):
    """Return the Q of people of whom a certificate counts at ``now``, an aware datetime."""
    return Q(tally__certified_until__gt=now or timezone.now())


def midnight(now=None):
    """Return the moment at which the day of ``now`` began, in the site's time zone."""
    here = timezone.localtime(now)
    return here.replace(hour=0, minute=0, second=0, microsecond=0)


def groups_of(person):
    """Return the groups of ``person``, whose memberships are best fetched beforehand."""
    return [membership.group for membership in person.memberships.all()]


def tally_of(person):
    """Return the PersonTally of ``person``; of noughts if nothing was ever counted."""
    return getattr(person, "tally", None) or PersonTally(user=person)


def rows(found):
    """
    Yield a TraineeRow for each of ``found``, a queryset of people.

    They are read some hundreds at a time, in a few queries each time.
    """
    lessons = {role: len(course_of(role)) for role in Role}
    found = found.select_related("tally").prefetch_related(with_groups())
    every = in_lots(found, PEOPLE_AT_ONCE)
    while some := list(islice(every, PEOPLE_AT_ONCE)):
        states = certificate_states([person.pk for person in some])
        for person in some:
            yield TraineeRow(
                person,
                groups_of(person),
                tally_of(person),
                lessons[person.role],
                states[person.pk],
            )


class GroupSize(NamedTuple):
    """How many people train in a group, and how many of them are through every lesson."""

    members: int
    finished: int


def finished():
    """Return the Q of people who are through every lesson of their course."""
    through = Q()
    for role in TRAINED:
        through |= Q(role=role, tally__lessons_done__gte=len(course_of(role)))
    return through


def size_of_group(group):
    """Return the GroupSize of ``group``, in one query."""
    numbers = people(group).aggregate(members=Count("pk"), finished=Count("pk", filter=finished()))
    return GroupSize(**numbers)
