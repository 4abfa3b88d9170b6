"""What the site writes by itself about sessions: before one, when it changes or is called off."""

import uuid
from datetime import timedelta
from typing import NamedTuple

from django.db.models import Exists, OuterRef, Q
from django.utils import timezone

from training.desk.trainees import TRAINED
from training.people.models import Session, User

from . import gaps, sending, texts
from .models import Letter, LetterTo

DAYS_BEFORE = 2
"""How long before a session its members are told; common practice, no source."""

OFF = "off"

# Names the keys of these letters among all others (RFC 4122, version 5).
_KEYS = uuid.UUID("6f3a1c8e-0f0b-4a52-9f0d-5a3b8d0c7e11")


class Due(NamedTuple):
    """A member who is to be told of a session by the text ``slug``, after the letter ``after``."""

    session: Session
    user: User
    slug: str
    after: int


def _own():
    """Return the letters that the site wrote by itself about sessions."""
    return Letter.objects.filter(purpose=Letter.Purpose.SESSION, by=None)


def due(now=None):
    """
    Return what is Due at ``now``, the next session first.

    Members are told from DAYS_BEFORE days before it begins. Those who were told hear again
    if day, time or place changed since, or if it was called off or is on after all. Not due
    are people who want no mail or may not sign in, and sessions that have begun.
    """
    now = now or timezone.now()
    near = Q(starts__lte=now + timedelta(days=DAYS_BEFORE))
    coming = Session.objects.filter(near | Exists(_own().filter(session=OuterRef("pk"))))
    coming = coming.filter(starts__gt=now).select_related("group").order_by("starts", "pk")
    return [each for session in coming for each in _of(session, now)]


def _of(session, now):
    """Yield what is Due of one ``session``."""
    rows = LetterTo.objects.filter(letter__in=_own().filter(session=session)).order_by("pk")
    last = {
        user: (pk, said) for user, pk, said in rows.values_list("user", "letter", "letter__said")
    }
    near = session.starts <= now + timedelta(days=DAYS_BEFORE)
    members = User.objects.filter(
        memberships__group=session.group, role__in=TRAINED, is_active=True, wants_mail=True
    )
    for user in members:
        after, said = last.get(user.pk, (0, ""))
        if said == says(session) or (not said and (session.called_off or not near)):
            continue
        yield Due(session, user, _slug(session, said), after)


def _slug(session, said):
    if session.called_off:
        return texts.CALLED_OFF
    return texts.MOVED if said else texts.SESSION


def says(session):
    """Return what a letter says of ``session``, to be compared with what the last one said."""
    if session.called_off:
        return OFF
    moments = (f"{moment.timestamp():.0f}" for moment in (session.starts, session.ends))
    return " ".join((*moments, session.place))


def send(due, address):
    """Mail what is ``due``; return whether it went out. Raise OSError if it cannot be sent."""
    session, text = due.session, texts.current(due.slug)
    values = gaps.of_session(session, address)
    values |= {"site": f"{address}/", "group": session.group.name}
    # Two who heard different things last hear in different letters: there and back is no repeat.
    name = repr((session.pk, due.slug, due.after, says(session)))
    letter, __ = Letter.objects.get_or_create(
        key=uuid.uuid5(_KEYS, name),
        defaults={
            "purpose": Letter.Purpose.SESSION,
            "subject": gaps.fill(text.subject, values),
            "body": gaps.fill(text.body, values),
            "group": session.group,
            "session": session,
            "said": says(session),
        },
    )
    return sending.note_sent(letter, due.user, address)
