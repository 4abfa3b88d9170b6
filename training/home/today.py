"""The first page of the staff: what the day asks of them, the nearest first."""

from django.shortcuts import render
from django.utils import timezone

from rigs.rules import rulebook
from training.desk.calls import cards
from training.desk.meetings.soon import sessions_soon
from training.register import uptake_sums

from . import news, waiting
from .models import LastLook


def uptake_line(user):
    """Return one sentence on how far the vessels that ``user`` looks after have come."""
    return uptake_sums.sentence(user, uptake_sums.counts(user))


def page(request):
    """Return the response of the first page to one of the staff."""
    user, now = request.user, timezone.now()
    look = LastLook.objects.look(user, now)
    context = {
        "lapsed": rulebook.lapsed(timezone.localdate(now)),
        "uptake": uptake_line(user),
        "cards": cards.urgent(user),
        "soon": sessions_soon(user, now),
        "waits": waiting.for_staff(user),
        "look": look,
        "news": news.since(user, look.since),
    }
    return render(request, "home/today.html", context)
