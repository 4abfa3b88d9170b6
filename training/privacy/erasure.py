"""
Having oneself erased.

The account becomes a nameless one that nobody can sign in to; nets, tows, catches,
memberships and the learning record go. Three things stay, tied to nobody's name:

- a certificate and what it rests on, as its requirements says: the exam, how it was supervised,
  and the readings by which it was renewed;
- check sheets, which are findings about somebody else's gear, and why one was thrown away;
- an officer's calls in a round, without which the agreement of the others would change.
"""

import uuid

from axes.models import AccessAttempt, AccessFailureLog, AccessLog
from django.contrib.admin.models import LogEntry
from django.contrib.contenttypes.models import ContentType
from django.db import transaction
from django.db.models import ProtectedError
from django.utils import timezone

from rigs.words.say import gettext_lazy
from training.certification.certificates import revoke
from training.certification.models import Certificate, Exam, Requirements
from training.checks import forgetting
from training.desk import sums
from training.people.models import User
from training.recall.models import ReadingSet

from .models import Erasure
from .owned import Rows, owned

NAME = gettext_lazy("Account deleted")
REASON = gettext_lazy("The holder deleted the account.")
# Rows of these stay, and what hangs on them with them.
KEPT = {
    "certification.Exam": gettext_lazy("a certificate rests on it"),
    "recall.ReadingSet": gettext_lazy("a certificate was renewed by it"),
    "checks.CheckSheet": gettext_lazy("it is about somebody else's gear"),
    "checks.CheckThrown": gettext_lazy("it says why a check sheet was thrown away"),
    "calibration.Turn": gettext_lazy("the others' agreement is counted against it"),
}
# What hangs on those that stay, and goes all the same: the person's own words.
GOING = {"certification.ResultQuestion"}


def certificates_of(person):
    """Return the certificates of ``person`` that have not run out, with their requirements."""
    found = Certificate.objects.filter(exam__user=person, expires__gt=timezone.now())
    return found.select_related("exam__requirements")


@transaction.atomic
def erase(person):
    """
    Erase ``person``; return the Erasure. Doing it twice does it once.

    All of it or nothing happens.
    """
    person = User.objects.select_for_update(no_key=True).get(pk=person.pk)
    erasure, is_new = Erasure.objects.get_or_create(person=person)
    if not is_new:
        return erasure
    for certificate in Certificate.objects.filter(exam__user=person).select_related(
        "exam__requirements"
    ):
        _settle(certificate, person)
    forgetting.forget(person)
    _delete(person)
    sums.recount([person.pk])
    _forget_traces(person)
    _make_nameless(person)
    return erasure


def _settle(certificate, person):
    """Do with ``certificate`` what its requirements says, or take the name off if it ran out."""
    wish = certificate.exam.requirements.after_erasure
    runs = certificate.expires > timezone.now()
    if runs and wish == Requirements.AfterErasure.KEEP:
        return
    if runs and wish == Requirements.AfterErasure.TAKE_BACK:
        revoke(certificate, REASON, person)
    _take_name_off(certificate)


def _take_name_off(certificate):
    certificate.holder_name, certificate.show_name = NAME, False
    certificate.save(update_fields=["holder_name", "show_name"])


def _delete(person):
    """Delete what is the person's own, last what others hang on."""
    rows = [each for each in owned(person) if each.model is not Erasure]
    kept = set(_kept(person, rows))
    left = [
        Rows(model, going)
        for model, pks in reversed(rows)
        if (going := [pk for pk in pks if (model, pk) not in kept])
    ]
    # What hangs on two others can come before one of them: it goes in a later round.
    while left:
        held = [each for each in left if not _gone(each)]
        if len(held) == len(left):
            raise RuntimeError(f"{held} are held by rows that stay.")
        left = held


def _gone(rows):
    """Delete ``rows``; return whether nothing that is still there held them."""
    try:
        rows.model._base_manager.filter(pk__in=rows.pks).delete()
    except ProtectedError:
        return False
    return True


def _kept(person, rows):
    """Yield (model, pk) of the rows that stay: those of KEPT, and what hangs on them."""
    rested_on = {Exam: _exams_of_certificates(person), ReadingSet: _sets_of_certificates(person)}
    staying = {}
    for model, pks in rows:
        if model._meta.label in GOING:
            continue
        if model._meta.label in KEPT:
            staying[model] = {pk for pk in pks if pk in rested_on.get(model, pks)}
            yield from ((model, pk) for pk in staying[model])
            continue
        for field in model._meta.concrete_fields:
            parents = staying.get(field.remote_field.model) if field.remote_field else None
            if parents:
                hanging = model._base_manager.filter(
                    pk__in=pks, **{f"{field.name}__in": parents}
                ).values_list("pk", flat=True)
                staying.setdefault(model, set()).update(hanging)
                yield from ((model, pk) for pk in hanging)


def _exams_of_certificates(person):
    found = Certificate.objects.filter(exam__user=person)
    return set(found.values_list("exam_id", flat=True))


def _sets_of_certificates(person):
    found = ReadingSet.objects.filter(user=person)
    found = found.exclude(season_check=None, refresher=None)
    return set(found.values_list("pk", flat=True))


def _forget_traces(person):
    """Delete what was noted of signing in, and of what staff did to the account."""
    for model in (AccessAttempt, AccessFailureLog, AccessLog):
        model.objects.filter(username=person.email).delete()
    LogEntry.objects.filter(
        content_type=ContentType.objects.get_for_model(User), object_id=str(person.pk)
    ).delete()


def _make_nameless(person):
    person.name = NAME
    # A domain that can never exist (RFC 2606).
    person.email = f"erased-{uuid.uuid4().hex}@erased.invalid"
    person.phone = person.reach_by = ""
    person.wants_mail = False
    person.set_unusable_password()
    person.is_active = person.is_superuser = False
    person.last_login = None
    person.groups.clear()
    person.user_permissions.clear()
    person.save()


def forget_expired(now=None):
    """Take the names off certificates that erased people kept and that have run out."""
    due = Certificate.objects.filter(
        exam__user__erasure__isnull=False, expires__lte=now or timezone.now()
    ).exclude(holder_name=NAME)
    return due.update(holder_name=NAME, show_name=False)
