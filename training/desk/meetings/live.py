"""Watching a group while it signs up and begins."""

from datetime import datetime
from typing import NamedTuple

from django.db.models import Count, Q
from django.utils import timezone

from training.people.models import User

SHOWN = 60  # people on the page, the latest to join first


class Newcomer(NamedTuple):
    """A member, when they joined, and what they have done so far."""

    name: str
    joined: datetime
    read: int
    passed: int


class Watch(NamedTuple):
    """How many are in the group, how many joined today and began, and the latest of them."""

    members: int
    today: int
    begun: int
    latest: list[Newcomer]
    moment: datetime


def watch(group, now=None):
    """Return the Watch of ``group``, in two queries however many its members are."""
    now = now or timezone.now()
    midnight = timezone.localtime(now).replace(hour=0, minute=0, second=0, microsecond=0)
    counts = group.memberships.aggregate(
        members=Count("pk"),
        today=Count("pk", filter=Q(joined__gte=midnight)),
        begun=Count("pk", filter=Q(joined__gte=midnight, user__tally__last__gte=midnight)),
    )
    latest = (
        User.objects.filter(memberships__group=group)
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
