"""Sessions as a calendar file that phones and desks read (iCalendar, RFC 5545)."""

from datetime import UTC, datetime

from django.utils.translation import gettext as _
from icalendar import Calendar, Event

# Revisions are counted in minutes since then, so that each change has a higher number
# (RFC 5545, 3.8.7.4) and all of them fit what programs read.
FIRST = datetime(2020, 1, 1, tzinfo=UTC)


def _revision(session):
    return int((session.changed - FIRST).total_seconds() // 60)


def _event(session, host):
    """Return one session as an event; called off ones stay, so that they go from calendars."""
    event = Event()
    event.add("uid", f"{session.uid}@{host}")
    event.add("dtstamp", session.changed.astimezone(UTC))
    event.add("sequence", _revision(session))
    event.add("dtstart", session.starts.astimezone(UTC))
    event.add("dtend", session.ends.astimezone(UTC))
    event.add("summary", session.title)
    if session.place:
        event.add("location", session.place)
    if session.note:
        event.add("description", session.note)
    event.add("status", "CANCELLED" if session.called_off else "CONFIRMED")
    return event


def calendar(name, sessions, host):
    """
    Return ``sessions`` as the bytes of an iCalendar file called ``name``.

    ``host`` is the site's host name: with it an event's name is unlike any other's.
    """
    found = Calendar()
    found.add("prodid", _("-//{host}//Training sessions//EN").format(host=host))
    found.add("version", "2.0")
    found.add("name", name)
    for session in sessions:
        found.add_component(_event(session, host))
    return found.to_ical()
