"""The sessions of today and of the days after it, for the first page of the staff."""

from datetime import timedelta
from typing import NamedTuple

from django.db.models import Count, Q
from django.utils import timezone

from training.people import sight
from training.people.models import Session

from ..trainees import midnight

DAYS = 7
SHOWN = 30  # sessions in all


class Soon(NamedTuple):
    """
    Sessions of ``today`` and of the ``week``: the days after it; ``more`` were left out.

    Called off ones are among them. Each has ``came``: how many are on its list.
    """

    today: list[Session]
    week: list[Session]
    more: int


def with_came(sessions):
    """Return ``sessions`` in order of time, each with ``came``: how many are on its list."""
    counted = sessions.select_related("group").annotate(came=Count("attendances"))
    return counted.order_by("starts", "pk")  # counting drops the order that they have


def sessions_soon(user, now=None):
    """
    Return the Soon of ``user``, a member of staff, at ``now``: in one query, two if some are left.

    One that began yesterday is of today until it is over.
    """
    now = now or timezone.now()
    today = midnight(now)
    # By the calendar: a day on which clocks change has not 24 hours.
    tomorrow, end = (midnight(today + timedelta(days=days, hours=12)) for days in (1, DAYS + 1))
    found = sight.rows(Session.objects.all(), user)
    found = found.filter(Q(starts__gte=today) | Q(ends__gt=now), starts__lt=end)
    shown = list(with_came(found)[:SHOWN])
    return Soon(
        today=[session for session in shown if session.starts < tomorrow],
        week=[session for session in shown if session.starts >= tomorrow],
        more=found.count() - SHOWN if len(shown) == SHOWN else 0,
    )
