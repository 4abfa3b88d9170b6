"""Who came to a session: by their own phone, or as the staff tapped their names."""

from ..joining import join_too
from ..models import Attendance


def arrive(session, user):
    """
    Have ``user``, who has the session's code, be there; twice is once.

    They join the group too, unless it is closed. Return whether it is new.
    """
    if session.group.is_open:
        join_too(user, session.group)
    said = {"said_by": Attendance.SaidBy.SELF}
    return Attendance.objects.get_or_create(session=session, user=user, defaults=said)[1]


def note(session, user, by, came):
    """Have ``by``, a member of staff, say whether ``user`` came; the last word holds."""
    if came:
        said = {"said_by": Attendance.SaidBy.STAFF, "noted_by": by}
        Attendance.objects.get_or_create(session=session, user=user, defaults=said)
    else:
        Attendance.objects.filter(session=session, user=user).delete()
