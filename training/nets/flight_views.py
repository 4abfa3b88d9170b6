"""A net in flight: what a change does, before anything is cut."""

from django.http import HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_GET

from rigs.tuning import flight_words
from training.deck import signal
from training.people import limits, sight

from . import in_flight
from .flight_forms import TryForm
from .views import own_net

FIGURES = limits.Load("nets.flight", most=1000, minutes=10)
SURES = limits.Load("nets.flight.sure", most=150, minutes=10)


def _asked(request, pk):
    """Return the net ``pk`` of the person who asks, its Known, and the form as it was sent."""
    net = own_net(request, pk)
    found = in_flight.known(net, timezone.localdate())
    has_sweep = any(rig.sweep is not None for rig in found.rigs.values())
    form = TryForm(request.GET or None, rigging=net.rigged(), has_sweep=has_sweep)
    return net, found, form


def _tried(form, found):
    """Return the Tried that ``form`` asks for; without an answer the net as it is."""
    start = form.fields["start"].initial
    if not form.is_bound:
        return in_flight.tried(found, start)
    told = form.cleaned_data
    return in_flight.tried(found, told["start"] or start, form.alteration, convert=told["convert"])


def _figure(form, found, *, sure):
    """Return what the page shows below its form, as context."""
    try:
        made = _tried(form, found)
        context = in_flight.shown(made, timezone.localdate())
        if form.is_bound:
            context |= {"said": list(form.said), "starts_from": form.starts_from}
        if sure and context["changes"]:
            context |= in_flight.how_sure(made)
    except in_flight.CannotFly as error:
        return {"trouble": str(error)}
    return context


@sight.owner
@signal.needs_signal("the site works the flight out")
@require_GET
def flight(request, pk):
    """
    Show a net in flight, and what a change does to it.

    It takes seconds to work out: a script asks for it. Without it the form does.
    """
    net, found, form = _asked(request, pk)
    context = {
        "net": net,
        "form": form,
        "plan": found.plan,
        "rulebook": found.plan.rulebook,
        "left_out": flight_words.LEFT_OUT,
        "well_foretold": flight_words.TRIED,
    }
    if form.is_bound and form.is_valid():
        if SURES.is_reached(request):
            return limits.ask_to_wait(request, SURES)
        context |= _figure(form, found, sure=True)
    return render(request, "nets/flight.html", context)


@sight.owner
@signal.needs_signal("the site works the flight out")
@require_GET
def flight_figure(request, pk):
    """Show what a change does, likely, for the page to put in its place at each key."""
    if FIGURES.is_reached(request):
        return limits.ask_to_wait(request, FIGURES)
    net, found, form = _asked(request, pk)
    context = {"net": net, "form": form, "waits": True}
    if form.is_bound and not form.is_valid():
        return render(request, "nets/flight_errors.html", context, status=422)
    context |= _figure(form, found, sure=False)
    return render(request, "nets/flight_figure.html", context)


@sight.owner
@signal.needs_signal("the site works the flight out")
@require_GET
def flight_sure(request, pk):
    """Show how sure a change is, over nets that may be this one; it takes seconds."""
    if SURES.is_reached(request):
        return limits.ask_to_wait(request, SURES)
    __, found, form = _asked(request, pk)
    if form.is_bound and not form.is_valid():
        return HttpResponse(status=422)
    try:
        context = in_flight.how_sure(_tried(form, found))
    except in_flight.CannotFly as error:
        context = {"trouble": str(error)}
    return render(request, "nets/flight_sure.html", context)
