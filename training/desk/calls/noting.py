"""Notes of calls: made, undone and put back; calls given to somebody and taken back."""

from django.db import transaction
from django.db.models import Q
from django.utils import timezone
from django.utils.translation import gettext as _

from training.people import sight
from training.people.models import Role, User
from training.register.models import Vessel

from ..models import CallGiven, CallNote, CallReason
from ..trainees import people


def reach(of, user):
    """Return those of a kind, "person" or "vessel", whom ``user`` may call."""
    every = people() if of == "person" else Vessel.objects.all()
    return sight.rows(every, user)


@transaction.atomic
def note(of, called, by, key, **told):
    """
    Return the CallNote that ``by`` called a person or a vessel, noted once per ``key``, a UUID.

    ``told`` are its outcome, note and again, and the keys of the ``reasons`` it was about.
    Once they spoke, the call is no longer given to anybody, unless they agreed on another.
    """
    reasons = told.pop("reasons")
    call, is_new = CallNote.objects.get_or_create(key=key, defaults={of: called, "by": by, **told})
    if is_new:
        CallReason.objects.bulk_create(CallReason(call=call, reason=each) for each in reasons)
        _end_giving(call)
    return call


def was_another(form):
    """Return whether a valid CalledForm was sent before and said otherwise; then it says so."""
    told = form.cleaned_data
    before = CallNote.objects.filter(key=told["key"]).first()
    if before is None or all(
        getattr(before, name) == told[name] for name in ("outcome", "note", "again")
    ):
        return False
    words = _("This form was used for another call already. Load this page again, then save it.")
    form.add_error("note", words)
    return True


def _end_giving(call):
    """Have ``call`` end that it was given to somebody, unless they were not reached for good."""
    if call.again is None and call.outcome != CallNote.Outcome.NO_ANSWER:
        about = {"person": call.person_id, "vessel": call.vessel_id}
        given = CallGiven.objects.filter(ended=None, made__lte=call.made, **about)
        given.update(ended=call.made, done=call)


@transaction.atomic
def undo(call, by):
    """Have ``call`` no longer count; what was given to somebody until then is so again."""
    CallNote.objects.filter(pk=call.pk, undone=None).update(undone=timezone.now(), undone_by=by)
    CallGiven.objects.filter(done=call).update(ended=None, done=None)


@transaction.atomic
def put_back(call):
    """Have ``call``, which was undone, count again."""
    CallNote.objects.filter(pk=call.pk).update(undone=None, undone_by=None)
    _end_giving(call)


def may_be_given(of, called):
    """Return the staff who look after a person or a vessel, a list by name."""
    is_staff = Q(role=Role.STAFF) | Q(is_superuser=True)
    staff = User.objects.filter(is_staff, is_active=True)
    found = [
        each
        for each in staff
        if each.sees_whole_fleet or reach(of, each).filter(pk=called.pk).exists()
    ]
    return sorted(found, key=lambda each: (each.name, each.pk))


@transaction.atomic
def give(of, called, to, by, key):
    """Give a call to one of the staff, once per ``key``, and to nobody else; return it."""
    given, is_new = CallGiven.objects.get_or_create(
        key=key, defaults={of: called, "to": to, "by": by}
    )
    if is_new:
        others = CallGiven.objects.filter(ended=None, **{of: called}).exclude(pk=given.pk)
        others.update(ended=given.made)
    return given


def take_back(of, called):
    """Give a call to nobody."""
    CallGiven.objects.filter(ended=None, **{of: called}).update(ended=timezone.now())
