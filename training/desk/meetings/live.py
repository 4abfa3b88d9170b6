"""Watching a group while it signs up and begins."""

from datetime import datetime
from typing import NamedTuple

from django.db.models import Count, Q
from django.utils import timezone

from ..trainees import TRAINED, midnight, people

SHOWN = 60  # people on the page, the latest to join first


class Newcomer(NamedTuple):
    """A member, when they joined, and what they have done so far."""

    name: str
    joined: datetime
    read: int
    passed: int


class Watch(NamedTuple):
    """How many train in the group, how many joined today and began, and the latest of them."""

    members: int
    today: int
    begun: int
    latest: list[Newcomer]
    moment: datetime


def watch(group, now=None):
    """Return the Watch of ``group``, in two queries however many its members are."""
    now = now or timezone.now()
    today = midnight(now)
    counts = group.memberships.filter(user__role__in=TRAINED).aggregate(
        members=Count("pk"),
        today=Count("pk", filter=Q(joined__gte=today)),
        begun=Count("pk", filter=Q(joined__gte=today, user__tally__last__gte=today)),
    )
    latest = (
        people(group)
        .order_by("-memberships__joined", "-pk")
        .values_list("name", "memberships__joined", "tally__lessons_read", "tally__passed")
    )
    return Watch(
        **counts,
        latest=[
            Newcomer(name, joined, read or 0, passed or 0)
            for name, joined, read, passed in latest[:SHOWN]
        ],
        moment=now,
    )
