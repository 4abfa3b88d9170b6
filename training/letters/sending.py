"""Letters made and sent: to each person once, whatever is tapped twice or runs side by side."""

from smtplib import SMTPRecipientsRefused
from typing import NamedTuple

from django.core.mail import BadHeaderError
from django.db import transaction
from django.utils import timezone

from training.people import wanting

from . import gaps
from .models import Letter, LetterTo
from .recipients import Why, why_not

# No later try gets through to these.
REFUSALS = (SMTPRecipientsRefused, BadHeaderError, UnicodeError)

State = LetterTo.State


class Draft(NamedTuple):
    """A letter as staff wrote it, by which means, and the ``key`` of its form."""

    key: object
    means: str
    subject: str
    body: str


@transaction.atomic
def make(draft, target, by, values):
    """
    Keep the letter ``draft`` of ``by`` with a row for each of ``target``; return (Letter, new).

    ``values`` fill its gaps. The same form sent twice makes one letter.
    """
    letter, is_new = Letter.objects.get_or_create(
        key=draft.key,
        defaults={
            "means": draft.means,
            "subject": gaps.fill(draft.subject, values),
            "body": gaps.fill(draft.body, values),
            "group": target.group,
            "session": target.session,
            "person": target.person,
            "by": by,
        },
    )
    if is_new:
        LetterTo.objects.bulk_create(row_for(letter, user) for user in target.people)
    return letter, is_new


def row_for(letter, user):
    """Return the LetterTo of ``user``, not saved: waiting, or left out with the reason."""
    why = why_not(user, letter.means)
    own = gaps.of_person(user)
    return LetterTo(
        letter=letter,
        user=user,
        subject=gaps.fill(letter.subject, own),
        text=gaps.fill(letter.body, own),
        state=State.LEFT_OUT if why else State.WAITING,
        why=why,
        settled=timezone.now() if why else None,
    )


def waiting():
    """Return the rows of letters by email that still wait, the oldest first."""
    found = LetterTo.objects.filter(state=State.WAITING, letter__means=Letter.Means.EMAIL)
    return found.select_related("user", "letter").order_by("letter", "pk")


def send(row, address):
    """
    Mail the LetterTo ``row`` unless that was done; return whether a mail went out.

    Raise OSError if no mail can be sent now: the row waits on. An address that the mail
    server refuses is noted, and not tried again by itself.
    """
    if why := why_not(row.user, row.letter.means):
        # What they chose since the letter was written holds.
        _settle(row, State.LEFT_OUT, why)
        return False
    if not _settle(row, State.SENT):
        return False
    try:
        wanting.send(row.user, row.subject, row.text, address)
    except REFUSALS:
        _put_back(row, State.FAILED, Why.REFUSED)
        return False
    except BaseException:
        # Also when somebody stops the program: the next run is to try again.
        _put_back(row, State.WAITING)
        raise
    return True


def _settle(row, state, why=Why.NONE):
    """Take ``row`` out of those that wait; return whether nobody did before."""
    mine = LetterTo.objects.filter(pk=row.pk, state=State.WAITING)
    return bool(mine.update(state=state, why=why, settled=timezone.now()))


def _put_back(row, state, why=Why.NONE):
    LetterTo.objects.filter(pk=row.pk).update(state=state, why=why, settled=None)


def try_again(rows):
    """Have those of ``rows`` whose address was refused wait again."""
    rows.filter(state=State.FAILED).update(state=State.WAITING, why=Why.NONE)


def mark_texted(row, texted):
    """Note whether staff texted ``row``, a LetterTo of a letter by phone."""
    found = LetterTo.objects.filter(pk=row.pk).exclude(state=State.LEFT_OUT)
    if texted:
        found.filter(state=State.WAITING).update(state=State.SENT, settled=timezone.now())
    else:
        found.update(state=State.WAITING, settled=None)


def note_sent(letter, user, address, secret=None):
    """
    Mail ``letter``, of the site's own, to ``user`` and keep the row; return whether it went out.

    It goes to each once. ``secret`` fills gaps that are mailed and not kept: such a letter is
    about the account, and goes to those who want no mail too. If it cannot be sent the error
    is raised, no row is kept, and the next run tries again.
    """
    row = row_for(letter, user)
    row.state, row.why, row.settled = State.SENT, Why.NONE, timezone.now()
    kept, is_new = LetterTo.objects.get_or_create(
        letter=letter,
        user=user,
        defaults={name: getattr(row, name) for name in ("subject", "text", "state", "settled")},
    )
    if not is_new:
        return False
    try:
        if secret:
            text = gaps.fill(kept.text, secret)
            wanting.send_of_account(user.email, kept.subject, text)
        else:
            wanting.send(user, kept.subject, kept.text, address)
    except REFUSALS:
        _put_back(kept, State.FAILED, Why.REFUSED)
        return False
    except BaseException:
        kept.delete()
        raise
    return True
