"""The first page of the staff: what the day asks of them, the nearest first."""

from django.shortcuts import render
from django.utils import timezone
from django.utils.translation import gettext as _

from rigs.rules import rulebook
from training.deck.plain import listed, without_a_sweep
from training.desk.calls import cards
from training.desk.meetings.soon import sessions_soon
from training.people import sight
from training.register import uptake_sums

from . import news, waiting
from .models import LastLook


def uptake_line(user):
    """Return one sentence on how far the vessels that ``user`` looks after have come."""
    vessels, converted = uptake_sums.total(uptake_sums.counts(user))
    harbors = sight.harbors_of(user)
    if harbors is None:
        return without_a_sweep(converted, vessels)
    if not harbors:
        return _("You look after no harbor yet. Staff of the whole fleet can give you one.")
    where = _("of {harbors}").format(harbors=listed(sorted(harbors)))
    return without_a_sweep(converted, vessels, where)


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
