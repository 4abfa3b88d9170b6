"""
Another email for an account: the new address has to answer, and the old one can stop it.

It applies once the new address answered and the old one said yes, or said nothing for
WAIT_DAYS. Where the old one was silent it can still have its account back for BACK_DAYS.
The days are this site's own choice, no source: longer than most trips.
"""

from datetime import timedelta

from django.core import signing
from django.db import transaction
from django.template.loader import render_to_string
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _

from . import notices, second
from .models import AccountDeed, EmailChange, User

WAIT_DAYS = 7
BACK_DAYS = 30
SALT = "people.new_email"
OLD, NEW = "old", "new"


class Ended(ValueError):
    """A link that does nothing any more; the message says why."""


def open_change(person):
    """Return the EmailChange of ``person`` that is on its way, or None."""
    return person.email_changes.filter(settled=None, stopped=None).first()


def latest(person):
    """Return the EmailChange of ``person`` asked for last, however it went on, or None."""
    return person.email_changes.select_related("by").last()


def may_change_at_once(person):
    """Return whether nobody is there to be asked: invited, and never had a password."""
    return not person.is_staff and not person.has_usable_password()


@transaction.atomic
def ask(person, new, address, by, agreed_by=None):
    """
    Return the EmailChange of ``person`` to ``new``, and mail both addresses their links.

    It takes the place of one on its way. ``address`` is where the site is found. To the
    person who asks all looks alike if another account has ``new``: that address is told.
    """
    held = User.objects.select_for_update(no_key=True).get(pk=person.pk)
    held.email_changes.filter(settled=None, stopped=None).update(stopped=timezone.now())
    change = EmailChange.objects.create(
        person=held, old=held.email, new=new.lower(), by=by, agreed_by=agreed_by
    )
    taken = User.objects.filter(email=change.new).exists()
    for side, to in ((NEW, change.new), (OLD, change.old)):
        context = {
            "change": change,
            "name": held.get_short_name(),
            "by": by if by != held else None,
            "taken": taken,
            "url": address + path_of(change, side),
            "wait_days": WAIT_DAYS,
        }
        text = render_to_string(f"people/new_email_{side}.txt", context)
        notices.send_later(held, _("Another email for your account"), text, to)
    return change


def path_of(change, side):
    """Return the path at which the OLD or the NEW address of ``change`` answers."""
    return reverse("people:email_link", args=[signing.dumps([change.pk, side], salt=SALT)])


def read(token):
    """Return the EmailChange of ``token`` and whose link it is; (None, None) if it is none."""
    try:
        pk, side = signing.loads(token, salt=SALT)
    except (signing.BadSignature, ValueError, TypeError):
        return None, None
    found = EmailChange.objects.filter(pk=pk, person__is_active=True).select_related("person")
    return found.first(), side


def can_put_back(change, now=None):
    """Return whether the old address, which was silent, may still have the account back."""
    now = now or timezone.now()
    last = change.asked + timedelta(days=BACK_DAYS)
    return bool(change.settled and not change.agreed and not change.stopped and now <= last)


@transaction.atomic
def answer(change, side, now=None):
    """Keep that the address of ``side`` said yes to ``change``; return it. Raise Ended."""
    held, now = _held(change), now or timezone.now()
    if not held.is_open:
        raise Ended(_("This change was settled or stopped before."))
    if side == NEW:
        held.confirmed = held.confirmed or now
    else:
        held.agreed = held.agreed or now
    held.save(update_fields=["confirmed", "agreed"])
    _settle_if_due(held, now)
    return held


@transaction.atomic
def stop(change, now=None):
    """
    End ``change`` for its old address, and put it back if it was settled; return it.

    Putting back takes the password away: who has the account may know it. Raise Ended.
    """
    held, now = _held(change), now or timezone.now()
    if held.stopped:
        return held
    if held.settled:
        _put_back(held, now)
    held.stopped = now
    held.save(update_fields=["stopped"])
    return held


def _put_back(held, now):
    person = held.person
    free = not User.objects.filter(email=held.old).exclude(pk=person.pk).exists()
    if not can_put_back(held, now) or person.email != held.new or not free:
        raise Ended(_("It is too late to stop this here. Ask the person who runs your training."))
    person.email = held.old
    person.set_unusable_password()
    person.save(update_fields=["email", "password"])


def settle_due(now=None):
    """Give the new email to those whose old address was asked and was silent long enough."""
    now = now or timezone.now()
    due = EmailChange.objects.filter(
        settled=None,
        stopped=None,
        confirmed__isnull=False,
        asked__lte=now - timedelta(days=WAIT_DAYS),
    )
    for change in due:
        with transaction.atomic():
            held = _held(change)
            if held.is_open:
                _settle_if_due(held, now)


def _settle_if_due(held, now):
    silent = held.asked + timedelta(days=WAIT_DAYS) <= now
    if not held.confirmed or not (held.agreed or silent):
        return
    person = held.person
    moved = person.email != held.old
    if moved or User.objects.filter(email=held.new).exclude(pk=person.pk).exists():
        held.stopped = now
        held.save(update_fields=["stopped"])
        return
    person.email, held.settled = held.new, now
    person.save(update_fields=["email"])
    held.save(update_fields=["settled"])
    if held.by_id != person.pk:
        second.note(person, AccountDeed.What.EMAIL, held.by, held.agreed_by)
    what = _("Your account now has the email {email}. Sign in with it.").format(email=held.new)
    for to in (held.old, held.new):
        notices.tell(person, what, held.by, to)


def _held(change):
    # The person first, as ``ask`` does it, so that no two wait for each other.
    person = User.objects.select_for_update(no_key=True).get(pk=change.person_id)
    held = EmailChange.objects.select_for_update().get(pk=change.pk)
    held.person = person
    return held
