"""
Taking an approved version back before its first day: one asks, a second person agrees.

Two people said that the rules change on a day, so one alone does not undo it: the law would
change on that day and the site would not. Nor does asking hold the version back, for a version
held past its first day is withdrawn. Where nobody can agree in time, whoever runs the server can.
"""

from datetime import datetime, time

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from rigs.rules import rulebook
from rigs.rules.rulebook import RulebookError
from training.people import second

from . import shelf
from .drafting import DraftError, held_version
from .models import NOTICE, Withdrawal, WithdrawalRequest, earliest_day


def may_withdraw(version, now=None):
    """Return whether ``version`` is approved and its first day far enough away."""
    return (
        version.is_approved
        and not version.is_withdrawn
        and version.effective_from >= earliest_day(now)
    )


def last_moment(version):
    """Return the moment until which ``version`` can be withdrawn."""
    return timezone.make_aware(datetime.combine(version.effective_from, time.min)) - NOTICE


def waiting(version):
    """Return the WithdrawalRequest for ``version`` that waits for a second person, or None."""
    return version.withdrawal_requests.filter(agreed=None).select_related("by").first()


def came_to_nothing(version, now=None):
    """Return the WithdrawalRequests for ``version`` that were left, or not agreed to in time."""
    found = version.withdrawal_requests.select_related("by", "decided_by")
    if may_withdraw(version, now):
        return found.filter(agreed=False)
    return found.exclude(agreed=True)


def to_agree(beside, now=None):
    """Return the WithdrawalRequests to which the person of ``beside`` can agree."""
    found = WithdrawalRequest.objects.filter(
        agreed=None, version__effective_from__gte=earliest_day(now)
    )
    found = found.select_related("version", "by").order_by("version__effective_from", "pk")
    return [each for each in found if not beside.why_not(each.by, each.made)]


def _refuse(held, now):
    """Raise DraftError if the version ``held`` cannot be withdrawn at ``now``."""
    rest = [each for each in rulebook.versions(held.name) if each.version != held.version]
    try:
        rulebook.refuse_gaps_and_overlaps(
            [(each, _("version {version}").format(version=each.version)) for each in rest]
        )
    except RulebookError as error:
        raise DraftError(
            _("Without it the versions would not join. {error}").format(error=error)
        ) from error
    if not may_withdraw(held, now):
        raise DraftError(
            _(
                "It is in force or about to be, and people are graded by it. Draft a newer "
                "version instead."
            )
        )


@transaction.atomic
def ask(version, by, reason, now=None):
    """
    Return the WithdrawalRequest of ``by`` for ``version``; while one waits it is that one.

    Nothing changes by it. Raise DraftError without a reason, and if it cannot be withdrawn.
    """
    held = held_version(version)
    if found := waiting(held):
        return found
    if not reason.strip():
        raise DraftError(_("Say why it is withdrawn."))
    _refuse(held, now)
    return WithdrawalRequest.objects.create(
        version=held, by=by, reason=reason.strip(), made=now or timezone.now()
    )


@transaction.atomic
def agree(request, by, now=None):
    """
    Return the Withdrawal that ``request`` comes to, ``by`` being the second person.

    ``by`` is None for the machine itself. The version stays on record and nothing is ever
    judged by it. Twice is once. Raise DraftError if ``by`` cannot agree, if it was decided
    otherwise, and once it is too late.
    """
    held, version = _held(request)
    if held.agreed:
        return version.withdrawal
    _must_wait(held)
    if by and (why := second.why_not(by, held.by, held.made)):
        raise DraftError(why)
    _refuse(version, now)
    _decide(held, by, True, now)
    made = Withdrawal.objects.create(version=version, by=held.by, agreed_by=by, reason=held.reason)
    transaction.on_commit(shelf.forget)
    return made


@transaction.atomic
def leave(request, by, now=None):
    """Leave the version as it is; who asked takes the request back by it. Twice is once."""
    held, __ = _held(request)
    if held.agreed is None:
        _decide(held, by, False, now)
    elif held.agreed:
        _must_wait(held)
    return held


def _held(request):
    # The version first, as ``ask`` does it, so that no two wait for each other.
    version = held_version(request.version)
    return WithdrawalRequest.objects.select_for_update().get(pk=request.pk), version


def _must_wait(held):
    if held.agreed is not None:
        raise DraftError(_("This was decided already."))


def _decide(held, by, agreed, now):
    held.agreed, held.decided_by, held.decided = agreed, by, now or timezone.now()
    held.save(update_fields=["agreed", "decided_by", "decided"])
