"""Mails to holders whose certificates are about to run out, each sent once."""

from datetime import timedelta
from typing import NamedTuple

from django.core.mail import send_mail
from django.template.loader import render_to_string
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _

from . import certificates
from .fair import recheck
from .models import Certificate, Reminder

DAYS = (60, 14)
"""How many days before the end a holder is told; common practice, no source."""


class Ending(NamedTuple):
    """A Certificate whose holder is to be told, and which of the days it is for."""

    certificate: Certificate
    days: int


def due(days=DAYS, now=None):
    """
    Return what is Ending at ``now``, soonest to end first.

    A certificate is due once for each of ``days`` before its end, though not for several
    at once: whoever was not told at 60 days is told at 14 only of these. Not due are
    those that no longer count, those of people who may not sign in, and those whose
    holder has a later one of the same requirements.
    """
    now = now or timezone.now()
    ending = Certificate.objects.filter(
        expires__gt=now,
        expires__lte=now + timedelta(days=max(days)),
        exam__user__is_active=True,
    )
    found = []
    for certificate in certificates.for_standing(ending).order_by("expires", "pk"):
        reached = min(each for each in days if certificate.expires <= now + timedelta(days=each))
        told = certificate.reminders.filter(days__lte=reached).exists()
        if not told and not certificates.taken_back(certificate) and not _renewed(certificate):
            found.append(Ending(certificate, reached))
    return found


def to_renew(certificate, now=None):
    """Return whether the holder of ``certificate`` should sit a new exam by now."""
    now = now or timezone.now()
    near = certificate.expires <= now + timedelta(days=max(DAYS))
    return near and not _renewed(certificate)


def _renewed(certificate):
    exam = certificate.exam
    later = Certificate.objects.filter(
        exam__user=exam.user, exam__requirements=exam.requirements, expires__gt=certificate.expires
    )
    return any(not certificates.taken_back(each) for each in certificates.for_standing(later))


def send(due, address):
    """
    Mail the holder of what is ``due``; ``address`` is where the site is found.

    Returns whether a mail went out: of two that ask at once only one sends it. If it
    cannot be sent the error is raised and the holder counts as not told.
    """
    reminder, is_new = Reminder.objects.get_or_create(certificate=due.certificate, days=due.days)
    if not is_new:
        return False
    try:
        _mail(due.certificate, address)
    except BaseException:
        # Also when somebody stops the program: the next run is to try again.
        reminder.delete()
        raise
    return True


def _mail(certificate, address):
    path = reverse("certificates:certificate", args=[certificate.code])
    context = {
        "certificate": certificate,
        "user": certificate.exam.user,
        "url": f"{address}{path}",
        "can_check": not recheck.hindrance(certificate),
    }
    send_mail(
        _("Your certificate ends soon: {title}").format(title=certificate.exam.requirements.title),
        render_to_string("certification/certificate_reminder.txt", context),
        None,
        [certificate.exam.user.email],
    )
