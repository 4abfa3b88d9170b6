"""Who is to be called, and in what order."""

from collections import defaultdict
from datetime import timedelta
from enum import StrEnum

from django.db.models import Exists, OuterRef, Q
from django.utils import timezone

from training.people import sight

from ..models import CallGiven, CallNote, CallReason
from ..trainees import midnight
from .numbers import SILENCE_WEEKS
from .reasons import REASONS

KINDS = ("person", "vessel")
"""What is called: the fields of a CallNote, too."""


class Whose(StrEnum):
    """Which calls to list: all, those given to whoever asks, or those given to nobody."""

    ALL = "all"
    MINE = "mine"
    NOBODYS = "nobodys"


def _hiding(of, now):
    """
    Return a queryset of (key of a reason, number): whose last call about it hides it at ``now``.

    ``of`` is what was called, one of KINDS.
    """
    later = CallReason.objects.filter(
        Q(call__made__gt=OuterRef("call__made"))
        | Q(call__made=OuterRef("call__made"), call__pk__gt=OuterRef("call__pk")),
        **{f"call__{of}": OuterRef(f"call__{of}")},
        reason=OuterRef("reason"),
        call__undone=None,
    )
    agreed = Q(call__again__gt=timezone.localdate(now))
    recently = Q(call__again=None, call__made__gte=now - timedelta(weeks=SILENCE_WEEKS))
    today = Q(call__again=None, call__made__gte=midnight(now))
    no_answer = Q(call__outcome=CallNote.Outcome.NO_ANSWER)
    calls = CallReason.objects.filter(
        agreed | (no_answer & today) | (~no_answer & recently),
        **{f"call__{of}__isnull": False},
        call__undone=None,
    )
    return calls.exclude(Exists(later)).values_list("reason", f"call__{of}")


def explained(reason, now=None):
    """Return a queryset of all whom ``reason`` finds, with what its sentence needs."""
    found = reason.found(now or timezone.now())
    if reason.of == "vessel":
        return found.filter(is_fishing=True).select_related("standing")
    return found.filter(is_active=True).select_related("tally")


def to_call(reason, user, now=None):
    """
    Return a queryset of those whom ``user`` should call for ``reason``, the most urgent first.

    Left out is whoever was called for it: for SILENCE_WEEKS, till the day on which to call
    again, or till tomorrow if nobody answered.
    """
    now = now or timezone.now()
    hidden = _hiding(reason.of, now).filter(reason=reason.key).values(f"call__{reason.of}")
    return sight.rows(explained(reason, now), user).exclude(pk__in=hidden)


def on_list(user, whose=Whose.ALL, now=None):
    """
    Return {(kind, number): its Reasons} of all whom ``user`` should call, the most urgent first.

    Whoever is there for several comes where the first of them puts him.
    """
    now = now or timezone.now()
    # Asked for once, and not with each reason: the queries are long ones.
    hidden = defaultdict(set)
    for of in KINDS:
        for key, pk in _hiding(of, now):
            hidden[key].add(pk)
    found = {}
    for reason in REASONS:
        silent, alone = hidden[reason.key], (reason,)  # most have one reason: it is the same tuple
        for pk in sight.rows(explained(reason, now), user).values_list("pk", flat=True):
            if pk not in silent:
                who = (reason.of, pk)
                found[who] = found[who] + alone if who in found else alone
    if whose == Whose.ALL:
        return found
    given = {key: each.to_id for key, each in givings().items()}
    if whose == Whose.MINE:
        return {key: why for key, why in found.items() if given.get(key) == user.pk}
    return {key: why for key, why in found.items() if key not in given}


def givings(**of):
    """Return {(kind, number): CallGiven} of the calls given to somebody; ``of`` narrows them."""
    found = {}
    for each in CallGiven.objects.standing().filter(**of).select_related("to", "by"):
        key = ("person", each.person_id) if each.vessel_id is None else ("vessel", each.vessel_id)
        found.setdefault(key, each)
    return found
