"""Which holders are to be told that a certificate is about to run out, and when."""

from datetime import timedelta
from typing import NamedTuple

from django.utils import timezone

from . import certificates
from .models import Certificate

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
    those that no longer count, those of people who may not sign in or want no mail, and
    those whose holder has a later one of the same requirements.
    """
    now = now or timezone.now()
    ending = Certificate.objects.filter(
        expires__gt=now,
        expires__lte=now + timedelta(days=max(days)),
        exam__user__is_active=True,
        exam__user__wants_mail=True,
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
