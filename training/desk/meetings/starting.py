"""What a new session is filled in with: the group's latest one, a week or more on."""

from datetime import timedelta

from django.utils import timezone

from training.people.models import Session

WEEK = timedelta(days=7)


def like_the_last(group, now=None):
    """
    Return what a form for a session of ``group`` begins with, {} if there was none before.

    Title, place and times are those of its latest session, and the day is the next of the same
    day of the week that is free. What to bring is not carried over.
    """
    latest = Session.objects.filter(group=group, called_off=None).order_by("-starts").first()
    if latest is None:
        return {}
    starts, ends = map(timezone.localtime, (latest.starts, latest.ends))
    day, today = starts.date() + WEEK, timezone.localdate(now)
    if day < today:
        day += WEEK * -(-(today - day) // WEEK)
    return {
        "title": latest.title,
        "place": latest.place,
        "day": day,
        "begins": starts.time(),
        "finishes": ends.time(),
    }
