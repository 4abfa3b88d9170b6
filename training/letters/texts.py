"""The texts that letters begin from: those the site comes with, and what staff made of them."""

from typing import NamedTuple

from django.db.models import OuterRef, Subquery
from django.utils.translation import gettext as _

from rigs.words.say import gettext_lazy

from . import gaps
from .models import LetterText

ANY = (*gaps.OF_PERSON, *gaps.OF_SITE)


class Text(NamedTuple):
    """
    A text by its ``slug``: subject and body of an email, and ``brief`` for a phone.

    ``known`` are the gaps that it may have, ``needs`` those that it must. ``by_itself`` says
    when the site sends it without being asked; it is empty for those that only staff send.
    """

    slug: str
    title: str
    subject: str
    body: str
    brief: str = ""
    known: tuple = ANY
    by_itself: str = ""
    needs: tuple = ()

    @property
    def is_automatic(self):
        return bool(self.by_itself)


SESSION, MOVED, CALLED_OFF = "session", "session-moved", "session-called-off"
CERTIFICATE, INVITATION = "certificate-ends", "invitation"

_SESSION_FACTS = gettext_lazy("{session}\nDay: {day}\nTime: {from} to {to}\nWhere: {place}\n{note}")


def _facts(before, after):
    """Return the body of a letter about a session, its facts between the two texts."""
    return f"{before}\n\n{_SESSION_FACTS}\n\n{after}"


def _about_sessions():
    known = (*ANY, *gaps.OF_GROUP, *gaps.OF_SESSION)
    hello = _("Hello {name},")
    calendar = _("Add it to your calendar:\n{calendar}")
    yield Text(
        SESSION,
        _("Session soon"),
        _("{group} meets on {day}"),
        _facts(f"{hello}\n\n" + _("your group meets soon."), calendar),
        _("{session}: {day}, {from} to {to}. Where: {place}."),
        known,
        _("From two days before a session, once to each member."),
    )
    yield Text(
        MOVED,
        _("Session changed"),
        _("Changed: {session} is on {day}"),
        _facts(f"{hello}\n\n" + _("day, time or place of a session changed. It is now:"), calendar),
        _("Changed: {session} is now {day}, {from} to {to}. Where: {place}."),
        known,
        _("When day, time or place change after the reminder went out."),
    )
    yield Text(
        CALLED_OFF,
        _("Session called off"),
        _("Called off: {session} on {day}"),
        _facts(f"{hello}\n\n" + _("this session is called off:"), _("You need not come.")),
        _("Called off: {session} on {day}, {from}. You need not come."),
        known,
        _("When a session is called off after the reminder went out."),
    )


def standard():
    """Return the Texts that the site comes with, by slug, in the language at hand."""
    hello = _("Hello {name},")
    found = (
        Text(
            "go-on",
            _("Go on with your lessons"),
            _("Go on with your training"),
            f"{hello}\n\n"
            + _("your lessons wait where you left them. One lesson takes a few minutes:\n\n{site}"),
            _("{name}, your training waits where you left it: {site}"),
        ),
        Text(
            "take-exam",
            _("Take the exam"),
            _("Are you ready for the exam?"),
            f"{hello}\n\n"
            + _(
                "have you finished the lessons? Then the exam is next. You find it under "
                '"Certificates":\n\n{site}'
            ),
            _("{name}, if you have finished the lessons, the exam is next: {site}"),
        ),
        *_about_sessions(),
        Text(
            CERTIFICATE,
            _("Certificate runs out"),
            _("Your certificate ends soon: {certificate}"),
            f"{hello}\n\n"
            + _(
                'Your certificate "{certificate}" ends on {ends}.\n{renewal} The old '
                "one stays valid until it ends.\n\nStart here:\n\n{link}\n\nQuestions? Ask the "
                "person who runs your training."
            ),
            known=(*ANY, *gaps.OF_CERTIFICATE),
            by_itself=_("60 and 14 days before a certificate runs out, to its holder."),
            needs=("certificate", "ends", "link"),
        ),
        Text(
            INVITATION,
            _("Invitation"),
            _("Your account for the raised footrope training"),
            f"{hello}\n\n"
            + _(
                "you have an account for the raised footrope training, as {role}. Open this "
                "link within 14 days to set your password and begin:\n\n{link}\n\nAfter that you "
                "sign in with this email address."
            ),
            known=(*ANY, *gaps.OF_INVITATION),
            by_itself=_("When staff invite somebody, at once."),
            needs=("link",),
        ),
    )
    return {text.slug: text for text in found}


def _latest():
    rows = LetterText.objects.filter(slug=OuterRef("slug")).order_by("-made", "-pk")
    return LetterText.objects.filter(pk=Subquery(rows.values("pk")[:1]))


def _merged(row, came):
    """Return the Text of ``row``, a LetterText; what it is for is as it ``came``, if it did."""
    words = {name: getattr(row, name) for name in ("title", "subject", "body", "brief")}
    return came._replace(**words) if came else Text(row.slug, **words)


def all_texts(gone=False):
    """Return the Texts as they are now, by slug; or those that were taken off the list."""
    came, rows = standard(), list(_latest().order_by("title"))
    found = {} if gone else dict(came)
    for row in rows:
        if row.is_gone == gone:
            found[row.slug] = _merged(row, came.get(row.slug))
        elif not gone:
            found.pop(row.slug, None)
    return found


def current(slug):
    """Return the Text called ``slug`` as it is now; None if there is none."""
    row = LetterText.objects.filter(slug=slug).order_by("-made", "-pk").first()
    came = standard().get(slug)
    return _merged(row, came) if row else came


def offered(known):
    """Return the Texts that staff can begin a letter from, whose gaps are all ``known``."""
    return [
        text for text in all_texts().values() if not gaps.unknown(text.subject + text.body, known)
    ]
