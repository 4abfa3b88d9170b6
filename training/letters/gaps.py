"""The gaps in a text, such as {name}, and what goes into them."""

import re

from django.urls import reverse
from django.utils import timezone
from django.utils.formats import date_format
from django.utils.translation import gettext as _

GAP = re.compile(r"\{([^{}]*)\}")

# As staff type them; a gap is a word of the site's, so it is not translated.
OF_PERSON = ("name",)
OF_SITE = ("site",)
OF_GROUP = ("group",)
OF_SESSION = ("session", "day", "from", "to", "place", "note", "calendar")
OF_CERTIFICATE = ("certificate", "ends", "renewal", "link")
OF_INVITATION = ("role", "link")


def gaps_in(text):
    """Return the gaps of ``text`` in their order, each once."""
    return list(dict.fromkeys(found.strip().lower() for found in GAP.findall(text)))


def unknown(text, known):
    """Return the gaps of ``text`` that are not among ``known``."""
    return [gap for gap in gaps_in(text) if gap not in known]


def fill(text, values):
    """Return ``text`` with the gaps that ``values`` knows filled; others stay as they are."""
    return GAP.sub(lambda found: values.get(found[1].strip().lower(), found[0]), text)


def of_person(user):
    """Return what the gaps about ``user`` are filled with."""
    return {"name": user.get_short_name()}


def of_session(session, address):
    """Return what the gaps about ``session`` are filled with, times in the site's zone."""
    starts, ends = timezone.localtime(session.starts), timezone.localtime(session.ends)
    to = date_format(ends, "g:i a")
    if ends.date() != starts.date():
        to = _("{time} on {day}").format(time=to, day=date_format(ends, "l, F j"))
    return {
        "session": session.title,
        "day": date_format(starts, "l, F j, Y"),
        "from": date_format(starts, "g:i a"),
        "to": to,
        "place": session.place or _("not said yet"),
        "note": session.note,
        "calendar": address + reverse("people:session_calendar", args=[session.uid]),
    }
