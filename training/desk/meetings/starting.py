"""What a new session is filled in with: the group's latest one, a week or more on."""

from datetime import timedelta

from django.utils import timezone

WEEK = timedelta(days=7)


def like_the_last(group, among, now=None):
    """
    Return what a form for a session of ``group`` begins with, {} if there was none before.

    Title, place and times are those of its latest session, and the day is the next of the same
    day of the week. What to bring is not carried over. For its first session title and times are
    those of the latest ``among`` others, a queryset.
    """
    planned = among.filter(called_off=None).order_by("-starts")
    if latest := planned.filter(group=group).first():
        return _same_evening(latest) | {"place": latest.place, "day": _next_day(latest, now)}
    other = planned.first()
    return _same_evening(other) if other else {}


def _same_evening(session):
    starts, ends = map(timezone.localtime, (session.starts, session.ends))
    return {"title": session.title, "begins": starts.time(), "finishes": ends.time()}


def _next_day(session, now):
    """Return the first day after ``session`` and from today on that is the same of the week."""
    day, today = timezone.localtime(session.starts).date() + WEEK, timezone.localdate(now)
    return day + max(0, -(-(today - day) // WEEK)) * WEEK
