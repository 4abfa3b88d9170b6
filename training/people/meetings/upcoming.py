"""The sessions that a person is asked to."""

from django.utils import timezone

from ..models import Session

SHOWN = 10


def sessions_to_come(user, now=None):
    """Return the next sessions of the groups of ``user``, called off ones included."""
    found = Session.objects.filter(
        group__memberships__user=user, ends__gte=now or timezone.now()
    ).select_related("group")
    return found[:SHOWN]
