"""Withdrawing a certificate: one member of staff proposes, another decides."""

from django.core.exceptions import ValidationError
from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from training.people import second

from .. import certificates, reasons
from ..models import Certificate, RevocationProposal


class MayNotRevoke(ValueError):
    """A withdrawal that may not be proposed or decided on; the message says why."""


def open_proposal(certificate):
    """Return the RevocationProposal for ``certificate`` that waits, or None."""
    return certificate.revocation_proposals.filter(decided=None).select_related("by").first()


def to_decide():
    """Return a queryset of the RevocationProposals that wait, the oldest first."""
    return RevocationProposal.objects.filter(decided=None).select_related(
        "certificate__exam__user", "certificate__exam__requirements", "by"
    )


def hindrance(proposal, beside):
    """Return why the person of ``beside`` may not decide on ``proposal``; empty if they may."""
    holder = proposal.certificate.exam.user
    if holder.pk == beside.person.pk:
        return _("This is your own certificate. Somebody else decides.")
    # The holder must be behind neither of the two.
    return beside.no_other_than(holder) or beside.why_not(proposal.by, proposal.made)


def able(proposal):
    """Return the people who can decide on ``proposal``, by name."""
    return second.able(proposal.by, proposal.made, proposal.certificate.exam.user)


@transaction.atomic
def propose(certificate, reason, by):
    """
    Return the RevocationProposal of ``by``; while one waits it is that one.

    Nothing changes by it. Raise MayNotRevoke for one's own certificate, for one that is
    withdrawn, and for a reason that says nothing.
    """
    held = Certificate.objects.select_for_update().get(pk=certificate.pk)
    if found := open_proposal(held):
        return found
    if held.exam.user_id == by.pk:
        raise MayNotRevoke(_("This is your own certificate. Somebody else withdraws it."))
    if certificates.taken_back(held):
        raise MayNotRevoke(_("This certificate was withdrawn before."))
    try:
        reason = reasons.clean(reason)
    except ValidationError as error:
        raise MayNotRevoke(error.message) from error
    return RevocationProposal.objects.create(certificate=held, reason=reason, by=by)


@transaction.atomic
def decide(proposal, by, approved):
    """
    Withdraw the certificate as ``proposal`` says if ``approved``, or leave it; twice is once.

    Who proposed it may take it back. Return the proposal. Raise MayNotRevoke for approval by
    that person and whoever may be the same, and if it was decided otherwise.
    """
    Certificate.objects.select_for_update().get(pk=proposal.certificate_id)
    held = RevocationProposal.objects.select_for_update().get(pk=proposal.pk)
    if held.decided and held.approved == approved:
        return held
    if held.decided:
        raise MayNotRevoke(_("This was decided before."))
    takes_back = held.by_id == by.pk and not approved
    if not takes_back and (why := hindrance(held, second.Beside(by))):
        raise MayNotRevoke(why)
    # Nobody decided on what its proposer took back.
    held.decided, held.approved = timezone.now(), approved
    held.decided_by = None if takes_back else by
    held.save(update_fields=["decided", "decided_by", "approved"])
    if approved:
        certificates.revoke(held.certificate, held.reason, held.by)
    return held
