"""What would put a net right, by the whole of it in flight."""

from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_GET

from training.deck import signal
from training.people import limits, sight

from . import flight_advice as advice
from . import in_flight
from .flight_views import FIGURES, SURES
from .views import own_net


def _asked(request, pk):
    """Return the net ``pk`` of the person who asks, and the advice.Asked of it."""
    net = own_net(request, pk)
    today = timezone.localdate()
    return net, advice.asked(in_flight.known(net, today), today)


def _figure(told):
    """Return what is offered, as context, or why nothing can be."""
    try:
        return advice.shown(told)
    except in_flight.CannotFly as error:
        return {"trouble": str(error), "tuned": told.tuned}


@sight.owner
@signal.needs_signal("the site works the flight out")
@require_GET
def flight_advice(request, pk):
    """
    Show which changes would put a net right.

    They take seconds to work out: a script asks for them. Without it ``all`` in the address does,
    and with it how sure each of them is.
    """
    net, told = _asked(request, pk)
    plan = told.known.plan
    context = {"net": net, "plan": plan, "rulebook": plan.rulebook, "all": "all" in request.GET}
    if context["all"]:
        if SURES.is_reached(request):
            return limits.ask_to_wait(request, SURES)
        context |= _figure(told)
        for offer in context.get("offers", ()):
            offer["sure"] = _sure(told, offer["key"])
    return render(request, "nets/flight_advice.html", context)


def _sure(told, key):
    try:
        return advice.how_sure(told, key)
    except in_flight.CannotFly as error:
        return str(error)


@sight.owner
@signal.needs_signal("the site works the flight out")
@require_GET
def advice_figure(request, pk):
    """Show which changes would put a net right, for the page to put in its place."""
    if FIGURES.is_reached(request):
        return limits.ask_to_wait(request, FIGURES)
    net, told = _asked(request, pk)
    context = {"net": net} | _figure(told)
    return render(request, "nets/flight_advice_figure.html", context)


@sight.owner
@signal.needs_signal("the site works the flight out")
@require_GET
def advice_sure(request, pk):
    """Say how sure the change named in the address is; it takes seconds."""
    if SURES.is_reached(request):
        return limits.ask_to_wait(request, SURES)
    __, told = _asked(request, pk)
    sure = _sure(told, request.GET.get("change", ""))
    return render(request, "nets/flight_advice_sure.html", {"sure": sure})
