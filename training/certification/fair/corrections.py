"""Corrections of an outcome: one member of staff proposes, another decides."""

from django.core.exceptions import ValidationError
from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from training.people import second

from .. import certificates, reasons
from ..models import Correction, Exam, Proposal


class MayNotCorrect(ValueError):
    """A correction that may not be proposed or decided on; the message says why."""


def open_proposal(exam):
    """Return the Proposal for ``exam`` that waits for a second person, or None."""
    return exam.proposals.filter(decided=None).first()


def to_decide():
    """Return a queryset of the Proposals that wait, the oldest first."""
    return Proposal.objects.filter(decided=None).select_related(
        "exam__user", "exam__requirements", "by"
    )


def hindrance(proposal, by, beside=None):
    """
    Return a sentence that says why ``by`` may not decide on ``proposal``; empty if they may.

    ``beside`` is the Beside of ``by``, where one is asked about several.
    """
    if proposal.exam.user_id == by.pk:
        return _("This is your own exam. Somebody else decides.")
    if proposal.by_id == by.pk:
        return _("You proposed it. A second person decides.")
    beside = beside or second.Beside(by)
    # The one whose exam it is must be behind neither of the two.
    return beside.no_other_than(proposal.exam.user) or beside.why_not(proposal.by, proposal.made)


def able(proposal):
    """Return the people who can decide on ``proposal``, by name."""
    return second.able(proposal.by, proposal.made, proposal.exam.user)


@transaction.atomic
def propose(exam, passed, motion, question=None):
    """
    Return the Proposal by ``motion`` that ``exam`` counts as ``passed``.

    Nothing changes by it. Raise MayNotCorrect for one's own exam, one that is not turned
    in, a reason that says nothing, an outcome that holds already, and while another
    proposal waits.
    """
    held = Exam.objects.select_for_update().get(pk=exam.pk)
    if found := Proposal.objects.filter(key=motion.key).first():
        return found
    if held.user_id == motion.by.pk:
        raise MayNotCorrect(_("This is your own exam. Somebody else corrects it."))
    if why := second.Beside(motion.by).no_other_than(held.user):
        raise MayNotCorrect(why)
    if held.handed_in is None:
        raise MayNotCorrect(_("This exam has not been turned in."))
    reason = _said(motion.reason)
    last = held.corrections.last()
    if passed == (last.passed if last else held.passed):
        said = "passed" if passed else _("not passed")
        raise MayNotCorrect(
            _("The exam counts as {said} already. Choose the other outcome.").format(said=said)
        )
    if open_proposal(held):
        raise MayNotCorrect(
            _("A correction of this exam waits for a second person. Decide on it first.")
        )
    return Proposal.objects.create(
        exam=held, passed=passed, question=question, **motion._replace(reason=reason)._asdict()
    )


@transaction.atomic
def approve(proposal, by, now=None):
    """
    Return the Correction that ``proposal`` comes to, approved by ``by``; twice is once.

    A correction to passed has the certificate issued. Raise MayNotCorrect for the person
    who proposed it or whose exam it is, and if it was turned down.
    """
    held = _held(proposal, by)
    if held.correction:
        return held.correction
    if held.decided:
        raise MayNotCorrect(_("This correction was turned down already."))
    now = now or timezone.now()
    held.correction = Correction.objects.create(
        exam=held.exam, passed=held.passed, reason=held.reason, by=held.by, made=now
    )
    held.decided, held.decided_by = now, by
    held.save(update_fields=["correction", "decided", "decided_by"])
    if held.passed:
        certificates.issue(held.exam)
    return held.correction


@transaction.atomic
def turn_down(proposal, reason, by, now=None):
    """
    Return ``proposal`` turned down by ``by`` for a ``reason``; twice is once.

    Raise MayNotCorrect as ``approve`` does, and for a reason that says nothing.
    """
    held = _held(proposal, by)
    if held.correction:
        raise MayNotCorrect(_("This correction was approved already."))
    if held.decided:
        return held
    reason = _said(reason)
    held.decided, held.decided_by, held.refusal = now or timezone.now(), by, reason
    held.save(update_fields=["decided", "decided_by", "refusal"])
    return held


def _said(reason):
    try:
        return reasons.clean(reason)
    except ValidationError as error:
        raise MayNotCorrect(error.message) from error


def _held(proposal, by):
    # The exam is locked as well: its corrections are made one after the other.
    Exam.objects.select_for_update().get(pk=proposal.exam_id)
    held = Proposal.objects.select_for_update().get(pk=proposal.pk)
    if why := hindrance(held, by):
        raise MayNotCorrect(why)
    return held
