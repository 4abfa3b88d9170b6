"""Certificates: issued for a passed exam, taken back with a reason, and whether they count."""

from calendar import monthrange
from contextlib import suppress
from datetime import datetime
from typing import NamedTuple

from django.core.exceptions import ValidationError
from django.db import transaction
from django.db.models import OuterRef, Prefetch, Q, Subquery
from django.utils import timezone
from django.utils.translation import gettext as _

from rigs.words.say import gettext_lazy
from training.people.models import with_groups
from training.recall import sets
from training.recall.models import ReadingSet

from . import reasons
from .changed_rules import changed_books
from .models import Certificate, Correction, Refresher, Revocation

VALID = "valid"
EXPIRED = "expired"
REVOKED = "revoked"
NEEDS_REFRESHER = gettext_lazy("needs a refresher")


class CertificateError(ValueError):
    """What cannot be done to a certificate; the message says why in plain words."""


class TakenBack(NamedTuple):
    """Why and when a certificate was taken back."""

    reason: str
    made: datetime


class Validity(NamedTuple):
    """
    Whether a certificate counts on a day.

    ``state`` is VALID, EXPIRED, REVOKED or NEEDS_REFRESHER; a certificate that needs a
    refresher still counts, for the rules that did not change. ``taken_back`` is set when
    it is REVOKED, ``changed`` (BookChanges) when it NEEDS_REFRESHER.
    """

    state: str
    taken_back: TakenBack | None = None
    changed: tuple = ()

    @property
    def counts(self):
        """Whether a stranger may rely on it."""
        return self.state in {VALID, NEEDS_REFRESHER}


def months_later(moment, months):
    """
    Return the same time of day ``months`` after ``moment``, an aware datetime.

    The day of the month is that of the site's time zone, and the last one of a month
    that is too short.
    """
    here = timezone.localtime(moment)
    years, month = divmod(here.month - 1 + months, 12)
    year, month = here.year + years, month + 1
    day = min(here.day, monthrange(year, month)[1])
    return here.replace(year=year, month=month, day=day)


def issue(exam):
    """
    Return the certificate of ``exam``, issuing it unless it has been.

    It runs from when the pass was settled: the hand-in, or the correction that turned
    the exam into a pass. However often and however many at once ask, there is one.

    Raises CertificateError for an exam that is not handed in or not passed.
    """
    correction = exam.corrections.last()
    if exam.handed_in is None:
        raise CertificateError(_("This exam has not been turned in."))
    if not (correction.passed if correction else exam.passed):
        raise CertificateError(_("This exam was not passed."))
    issued = exam.handed_in if exam.passed else correction.made
    with transaction.atomic():
        certificate, __ = Certificate.objects.get_or_create(
            exam=exam,
            defaults={
                "holder_name": exam.user.name,
                "issued": issued,
                "expires": months_later(issued, exam.requirements.months_valid),
                "rulebooks": dict(
                    exam.tasks.order_by("rulebook_name").values_list(
                        "rulebook_name", "rulebook_version"
                    )
                ),
            },
        )
    return certificate


def revoke(certificate, reason, by):
    """
    Take ``certificate`` back, for a ``reason`` in words, by the staff member ``by``.

    Taking it back again changes nothing: the first reason stands. Returns the
    Revocation. Raises CertificateError for a reason that says nothing.
    """
    try:
        reason = reasons.clean(reason)
    except ValidationError as error:
        raise CertificateError(
            _("The certificate is not taken back. {message}").format(message=error.message)
        ) from error
    revocation, __ = Revocation.objects.get_or_create(
        certificate=certificate, defaults={"reason": reason, "by": by}
    )
    return revocation


def taken_back(certificate):
    """
    Return the TakenBack of ``certificate``, or None if it was not taken back.

    It also no longer counts when the exam behind it was corrected to not passed.
    """
    revocation = getattr(certificate, "revocation", None)
    if revocation:
        return TakenBack(revocation.reason, revocation.made)
    corrections = list(certificate.exam.corrections.all())
    if corrections and not corrections[-1].passed:
        return TakenBack(corrections[-1].reason, corrections[-1].made)
    return None


def all_taken_back():
    """Return a queryset of the certificates of which ``taken_back`` says something."""
    corrections = Correction.objects.filter(exam=OuterRef("exam")).order_by("-made", "-pk")
    return Certificate.objects.annotate(
        last_word=Subquery(corrections.values("passed")[:1])
    ).filter(Q(revocation__isnull=False) | Q(last_word=False))


def holding(now=None):
    """
    Return a queryset of the certificates that counted at ``now``, an aware datetime.

    Issued by then, not yet run out, and not taken back by then.
    """
    now = now or timezone.now()
    corrections = Correction.objects.filter(exam=OuterRef("exam"), made__lte=now)
    last_word = Subquery(corrections.order_by("-made", "-pk").values("passed")[:1])
    return (
        Certificate.objects.filter(issued__lte=now, expires__gt=now)
        .annotate(last_word=last_word)
        .exclude(revocation__made__lte=now)
        .filter(Q(last_word=None) | Q(last_word=True))
    )


def held_of(user, requirements, now=None):
    """Return the certificate of ``requirements`` that ``user`` holds longest, None if none."""
    found = holding(now).filter(exam__user=user, exam__requirements=requirements)
    return found.order_by("expires").last()


def never_taken_back():
    """Return a queryset of the certificates that were not taken back, run out or not."""
    return Certificate.objects.exclude(pk__in=all_taken_back().values("pk"))


def is_demo(certificate):
    """Return whether ``certificate`` or its holder was made up for the demo."""
    exam = certificate.exam
    return exam.requirements.is_demo or any(
        membership.group.is_demo for membership in exam.user.memberships.all()
    )


def learned(certificate):
    """Return the rule sets, name to version, that the holder has been through so far."""
    found = dict(certificate.rulebooks)
    for refresher in certificate.refreshers.all():
        if refresher.is_finished:
            found |= refresher.rulebooks
    return found


def standing(certificate, now=None):
    """Return the Validity of ``certificate`` at ``now`` (an aware datetime)."""
    now = now or timezone.now()
    if found := taken_back(certificate):
        return Validity(REVOKED, taken_back=found)
    if now >= certificate.expires:
        return Validity(EXPIRED)
    changed = changed_books(learned(certificate), timezone.localdate(now))
    return Validity(NEEDS_REFRESHER, changed=changed) if changed else Validity(VALID)


def refresh(certificate, now=None, answers=None, key=None):
    """
    Keep that the holder went through all that changed for ``certificate`` up to ``now``.

    ``answers`` maps the changed rules to what the holder said they are now. Readings of
    those that can be asked are opened, by ``key``, a UUID; what changed counts as gone
    through when they are finished. Returns the Refresher, or None when there was nothing
    to go through.
    """
    found = standing(certificate, now)
    if found.state != NEEDS_REFRESHER:
        return None
    rules = [(book.new.name, rule.key) for book in found.changed for rule in book.rules]
    with transaction.atomic():
        refresher, is_new = Refresher.objects.get_or_create(
            certificate=certificate,
            rulebooks={book.new.name: book.new.version for book in found.changed},
            defaults={"answers": answers or {}},
        )
        if is_new:
            with suppress(sets.NothingToAsk):
                refresher.set = sets.open_set(
                    certificate.exam.user,
                    ReadingSet.Purpose.CHANGES,
                    rules,
                    # Its own, since another change can come before these are finished.
                    subject=f"{certificate.code}/{refresher.pk}",
                    key=key,
                    now=now,
                )
                refresher.save(update_fields=["set"])
    return refresher


def going_through(certificate):
    """Return the Refresher of ``certificate`` whose readings wait to be finished, or None."""
    left = [each for each in certificate.refreshers.all() if not each.is_finished]
    return left[-1] if left else None


def for_standing(certificates):
    """Return ``certificates``, a queryset, with all that ``standing`` and ``is_demo`` ask."""
    found = certificates.select_related("exam__requirements", "exam__user", "revocation")
    return found.prefetch_related(
        "exam__corrections",
        with_groups("exam__user__memberships"),
        Prefetch("refreshers", Refresher.objects.select_related("set")),
    )
