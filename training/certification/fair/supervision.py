"""Exams opened at a meeting by a code, and begun with it."""

from collections import Counter
from datetime import timedelta

from django.db import transaction
from django.utils import timezone
from django.utils.formats import date_format
from django.utils.translation import gettext as _

from rigs.words.say import gettext_lazy
from training.deck.codes import tidy_code
from training.people import sight
from training.people.models import User

from .. import exams
from ..models import CodeTry, Conditions, Exam, Supervision
from . import conditions

MOST_TRIES = 10
TRIES_WITHIN = timedelta(minutes=15)
"""As for passwords: a room may mistype, and a million guesses take longer than a meeting."""

NO_CODE = gettext_lazy(
    "No supervised exam has this code now. Ask the supervisor to read it out again."
)


def is_open(supervision, now=None):
    """Return whether the code of ``supervision`` opens an exam at ``now``."""
    now = now or timezone.now()
    return supervision.closed is None and supervision.starts <= now < supervision.ends


def find(user, requirements, typed, now=None):
    """
    Return the Supervision that the code ``typed`` by ``user`` opens for ``requirements``.

    Raise exams.MayNotBegin if there is none, if it is not for this person, or after too
    many wrong codes. A wrong one is counted, so call it outside of a transaction that
    a refusal undoes.
    """
    now = now or timezone.now()
    CodeTry.objects.filter(made__lte=now - TRIES_WITHIN).delete()
    with transaction.atomic():
        # Held, so that guesses sent at once are counted one after the other.
        User.objects.select_for_update(no_key=True).get(pk=user.pk)
        if user.code_tries.count() >= MOST_TRIES:
            minutes = round(TRIES_WITHIN.total_seconds() / 60)
            problem = _(
                "Too many wrong codes. Wait {minutes} minutes, or ask the supervisor."
            ).format(minutes=minutes)
            found = None
        else:
            found = Supervision.objects.filter(code=tidy_code(typed)).first()
            problem = _problem(found, user, requirements, now)
            if problem == NO_CODE:
                CodeTry.objects.create(user=user, made=now)
    if problem:
        raise exams.MayNotBegin(problem)
    return found


def _problem(found, user, requirements, now):
    # One that is over or for later is answered like one that never was.
    if found is None or not is_open(found, now):
        return NO_CODE
    if found.requirements_id != requirements.pk:
        return _("This code is for another exam: {requirements}.").format(
            requirements=found.requirements
        )
    if found.by_id == user.pk:
        return _("You supervise this exam, so you cannot take it.")
    if found.group and not found.group.memberships.filter(user=user).exists():
        return _(
            "This code is for the group {group}. Join it first, or ask the supervisor."
        ).format(group=found.group)
    time = conditions.time_for(user, requirements)
    if time and now + time > found.ends:
        minutes = round(time.total_seconds() / 60)
        end = date_format(timezone.localtime(found.ends), "g:i a")
        return _(
            "Too late to start: you have {minutes} minutes for the exam, and the supervision "
            "ends at {end}. Ask the supervisor for another day."
        ).format(minutes=minutes, end=end)
    return ""


def begin(user, requirements, key, typed, now=None):
    """
    Return the exam of ``user`` begun with ``key`` and the code ``typed``.

    One exam a person in each supervision. An exam begun without the code, or with another,
    is never taken into it: raise exams.MayNotBegin until that is turned in.
    """
    now = now or timezone.now()
    if found := Exam.objects.filter(key=key, user=user).first():
        return found
    supervision = find(user, requirements, typed, now)
    exams.open_exam(user, requirements, now)
    with transaction.atomic():
        User.objects.select_for_update(no_key=True).get(pk=user.pk)
        before = Conditions.objects.filter(supervision=supervision, exam__user=user).first()
        if before and before.exam.handed_in is None:
            return before.exam
        if before:
            raise exams.MayNotBegin(_("You took this exam already. One each at a supervised exam."))
        if exams.open_exam(user, requirements, now):
            raise exams.MayNotBegin(
                _("You started this exam before, without this code. Turn that one in first.")
            )
        return exams.begin(user, requirements, key, exams.Opening(now, supervision=supervision))


def close(supervision, now=None):
    """End the code of ``supervision`` before its time; exams begun go on to their end."""
    if supervision.closed is None:
        supervision.closed = now or timezone.now()
        supervision.save(update_fields=["closed"])


def entries(supervision, user):
    """
    Return the Conditions of the exams begun in ``supervision``, by name.

    The supervisor sees everybody who was there, other staff (``user``) those they look after.
    """
    found = supervision.entries.select_related("exam__user", "exam__requirements", "supervision")
    if supervision.by_id != user.pk:
        found = sight.rows(found, user)
    return list(found.prefetch_related("signatures").order_by("exam__user__name", "exam"))


def same_names(entries):
    """Return the names that two or more of ``entries`` have: one person may be behind both."""
    count = Counter(" ".join(each.exam.user.name.casefold().split()) for each in entries)
    return {
        each.exam.user.name
        for each in entries
        if count[" ".join(each.exam.user.name.casefold().split())] > 1
    }
