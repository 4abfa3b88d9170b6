"""The supervisor's signature for who took an exam."""

from datetime import timedelta

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from ..models import Conditions, Signature

SIGN_DAYS = 7
"""After the end, within which a supervisor still knows who was there; our choice, no source."""


class MayNotSign(ValueError):
    """A signature that does not count; the message says why."""


def last(conditions):
    """Return the Signature of ``conditions`` that counts, or None."""
    found = list(conditions.signatures.all())
    return found[-1] if found else None


def is_signed(conditions):
    """Return whether the supervisor stands by who took the exam of ``conditions``."""
    signature = last(conditions)
    return signature is not None and signature.confirms


def is_open(supervision, now=None):
    """Return whether exams of ``supervision`` may still be signed for."""
    return (now or timezone.now()) <= supervision.ends + timedelta(days=SIGN_DAYS)


def hindrance(conditions, by, now=None):
    """Return a sentence that says why ``by`` may not sign for ``conditions``; empty if they may."""
    if conditions.supervision is None:
        return _("This exam was not supervised.")
    if conditions.exam.user_id == by.pk:
        return _("Nobody signs for themselves.")
    if conditions.supervision.by_id != by.pk:
        return _("Only the supervisor who opened the exam signs for it.")
    if conditions.exam.handed_in is None:
        return _("Sign when the exam is turned in.")
    if not is_open(conditions.supervision, now):
        return _("Too late: sign within {SIGN_DAYS} days after the end.").format(
            SIGN_DAYS=SIGN_DAYS
        )
    return ""


@transaction.atomic
def sign(conditions, how, by, now=None):
    """
    Return the Signature of ``by``, how (a Signature.How) they know who took the exam.

    The same again, as by a double tap, is kept once. Raise MayNotSign for anybody but the
    supervisor, for their own exam, before it is turned in, and when it is too late.
    """
    held = Conditions.objects.select_for_update().get(pk=conditions.pk)
    if why := hindrance(held, by, now):
        raise MayNotSign(why)
    before = last(held)
    if before and before.how == how:
        return before
    return Signature.objects.create(conditions=held, how=how, by=by, made=now or timezone.now())
