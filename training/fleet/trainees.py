"""Who trains, and how far each has come."""

from datetime import datetime
from typing import NamedTuple

from django.db.models import Count, Max, Q

from training.accounts.models import Role, User
from training.exercises.models import Attempt
from training.lessons.progress import Progress, progress_for_many

from .models import Group


class Row(NamedTuple):
    """One person on the list; ``last`` is when they last handed something in, None if never."""

    person: User
    groups: list[Group]
    progress: Progress
    attempts: int
    passed: int
    last: datetime | None

    @property
    def is_demo(self):
        return any(group.is_demo for group in self.groups)


def people(group=None, text=""):
    """
    Return the trainees and officers, by name.

    Those of ``group`` alone if one is given, and those with every word of ``text`` in
    their name or e-mail address.
    """
    found = User.objects.filter(role__in=[Role.TRAINEE, Role.OFFICER])
    if group is not None:
        found = found.filter(memberships__group=group)
    for word in text.split():
        found = found.filter(Q(name__icontains=word) | Q(email__icontains=word))
    return found


def groups_of(person):
    """Return the groups of ``person``, whose memberships are best fetched beforehand."""
    return [membership.group for membership in person.memberships.all()]


def rows(found):
    """Return a Row for each of the ``found`` people, in a few queries however many they are."""
    found = list(found.prefetch_related("memberships__group"))
    progress = progress_for_many(found)
    handed_in = Attempt.objects.filter(assignment__user__in=found).order_by()
    counts = {
        pk: numbers
        for pk, *numbers in handed_in.values_list("assignment__user").annotate(
            all=Count("pk"), passes=Count("pk", filter=Q(passed=True)), last=Max("handed_in")
        )
    }
    return [
        Row(person, groups_of(person), progress[person.pk], *counts.get(person.pk, (0, 0, None)))
        for person in found
    ]
