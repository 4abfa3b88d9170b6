"""The calls to make, as a member of staff sees them."""

from datetime import timedelta
from typing import NamedTuple

from django.utils import timezone

from training.people import sight
from training.register.models import Vessel

from ..models import CallNote
from ..trainees import people
from .numbers import SHOWN, SILENCE_WEEKS
from .reasons import REASONS, Reason


class ToCall(NamedTuple):
    """Somebody to call: a person or a Vessel, why, and where to find out more."""

    called: object
    why: str
    harbors: str
    is_demo: bool


class Listed(NamedTuple):
    """The first calls for a Reason, and how many there are in all."""

    reason: Reason
    calls: list[ToCall]
    total: int


def to_call(reason, user, now=None):
    """
    Return a queryset of those whom ``user`` should call for ``reason``, the most urgent first.

    Whoever was called for it in the last SILENCE_WEEKS is left out.
    """
    now = now or timezone.now()
    found = reason.found(now)
    if reason.of == "vessel":
        found = sight.rows(found, user).filter(is_fishing=True).select_related("standing")
    else:
        found = sight.rows(found, user).filter(is_active=True).select_related("tally")
        found = found.prefetch_related("memberships__group")
    notes = CallNote.objects.filter(
        reason=reason.key, made__gte=now - timedelta(weeks=SILENCE_WEEKS)
    )
    called = notes.filter(**{f"{reason.of}__isnull": False}).values(reason.of)
    return found.exclude(pk__in=called)


def calls(reason, found):
    """Yield a ToCall for each of ``found``, as ``to_call`` gives them."""
    for called in found:
        if reason.of == "vessel":
            yield ToCall(called, reason.why(called), called.harbor, called.is_demo)
        else:
            groups = [membership.group for membership in called.memberships.all()]
            harbors = ", ".join(dict.fromkeys(each.harbor for each in groups if each.harbor))
            demo = any(each.is_demo for each in groups)
            yield ToCall(called, reason.why(called), harbors, demo)


def listed(user, now=None):
    """Return a Listed for each reason, in a few queries each."""
    found = []
    for reason in REASONS:
        every = to_call(reason, user, now)
        found.append(Listed(reason, list(calls(reason, every[:SHOWN])), every.count()))
    return found


def note(reason, pk, key, note, by):
    """
    Keep that ``by`` called whoever has the ``pk`` for ``reason``, once per ``key``, a UUID.

    Raise LookupError if there is nobody whom ``by`` looks after.
    """
    reach = (
        sight.rows(Vessel.objects.all(), by) if reason.of == "vessel" else sight.rows(people(), by)
    )
    called = reach.filter(pk=pk).first()
    if called is None:
        raise LookupError(pk)
    CallNote.objects.get_or_create(
        key=key, defaults={reason.of: called, "reason": reason.key, "note": note, "by": by}
    )
    return called
