"""A net's card for sea, on a page that opens without signal."""

from django.shortcuts import redirect, render
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_GET, require_POST

from rigs.tuning import flight_words
from training.deck import signal
from training.people import limits, sight
from training.work import keeping

from . import card
from .flight_views import SURES
from .views import own_net


@never_cache
@signal.opens
@sight.owner
@require_GET
def flight_card(request, pk):
    """Show what changes do to a net, as it was worked out last; with ``part`` only that."""
    net = own_net(request, pk)
    found = card.known(net)
    asked = card.asked(net, found)
    context = {
        "net": net,
        "plan": found.plan,
        "rulebook": found.plan.rulebook,
        "card": card.shown(net, found),
        "asked": asked,
        "no_worker": keeping.trouble() if asked.waits else None,
        "rigging": found.read.rigging,
        "well_foretold": flight_words.TRIED,
        "only_shine": flight_words.ONLY_SHINE,
    }
    part = "nets/flight_card_part.html"
    return render(request, part if request.GET.get("part") else "nets/flight_card.html", context)


@sight.owner
@require_POST
def flight_card_ask(request, pk):
    """Have a net's card worked out."""
    net = own_net(request, pk)
    if SURES.is_reached(request):
        return limits.ask_to_wait(request, SURES)
    card.ask(net, request.user)
    return redirect("nets:flight_card", net.pk)
