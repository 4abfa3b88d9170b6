"""Mails to those who want them, when rules come back: one a week at most."""

from datetime import datetime, time, timedelta
from typing import NamedTuple

from django.core.mail import send_mail
from django.db.models import Q
from django.template.loader import render_to_string
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _

from rigs.words.say import gettext_lazy
from training.people.models import User

from . import memory, sets
from .days import RulesOn
from .models import PracticeMail

DAYS_BETWEEN = 7

SAVED = {
    True: gettext_lazy("Saved. We email you when rules come back, once a week at most."),
    False: gettext_lazy("Saved. You get no more emails about practice."),
}


class Due(NamedTuple):
    """A person who is to be told, and how many readings come back."""

    user: User
    readings: int


def wants(user):
    """Return whether ``user`` asked for these mails."""
    return PracticeMail.objects.filter(user=user, wanted=True).exists()


def _waiting(today):
    """Return the choices of those who want a mail and got none for a week, by local dates."""
    # Whole days, or a run a minute earlier than last week's would wait for another day.
    near = timezone.make_aware(datetime.combine(today - timedelta(days=DAYS_BETWEEN - 1), time()))
    waited = Q(last_sent=None) | Q(last_sent__lt=near)
    return PracticeMail.objects.filter(waited, wanted=True, user__is_active=True)


def due(now=None):
    """Return who is Due a mail at ``now``, by name."""
    on = RulesOn(timezone.localdate(now))
    choices = _waiting(on.day).select_related("user").order_by("user__name", "user")
    found = (Due(each.user, len(memory.coming_back(each.user, on))) for each in choices)
    return [each for each in found if each.readings]


def send(due, address, now=None):
    """
    Mail the person who is ``due``; ``address`` is where the site is found.

    Returns whether a mail went out: of two that ask at once only one sends it. If it
    cannot be sent the error is raised and the person counts as not told.
    """
    now = now or timezone.now()
    before = PracticeMail.objects.get(user=due.user).last_sent
    mine = _waiting(timezone.localdate(now)).filter(user=due.user)
    if not mine.update(last_sent=now):
        return False
    try:
        _mail(due, address)
    except BaseException:
        # Also when somebody stops the program: the next run is to try again.
        PracticeMail.objects.filter(user=due.user).update(last_sent=before)
        raise
    return True


def _mail(due, address):
    asked = min(due.readings, sets.MOST)
    context = {
        "user": due.user,
        "readings": asked,
        "minutes": sets.minutes(asked),
        "url": address + reverse("recall:review"),
        "stop": address + reverse("people:account") + "#practice-mail",
    }
    send_mail(
        _("Rules to practice again"),
        render_to_string("recall/mail.txt", context),
        None,
        [due.user.email],
    )
