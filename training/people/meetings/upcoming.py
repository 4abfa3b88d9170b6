"""The sessions that a person is asked to."""

from django.db.models import Exists, OuterRef
from django.utils import timezone

from ..models import Attendance, Session

SHOWN = 10


def _to_come(user, now):
    found = Session.objects.filter(group__memberships__user=user, ends__gte=now or timezone.now())
    return found.select_related("group")


def sessions_to_come(user, now=None):
    """Return the next sessions of the groups of ``user``, called off ones included."""
    return _to_come(user, now)[:SHOWN]


def next_sessions(user, now=None):
    """
    Return the next session of the groups of ``user`` that takes place, as a list.

    Those called off before it stand before it; one that is on counts until it is over.
    Each has ``is_mine``: whether ``user`` is on its list already. One query.
    """
    mine = Attendance.objects.filter(session=OuterRef("pk"), user=user)
    shown = []
    for session in _to_come(user, now).annotate(is_mine=Exists(mine))[:SHOWN]:
        shown.append(session)
        if not session.called_off:
            break
    return shown
