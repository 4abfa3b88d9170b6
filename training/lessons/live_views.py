"""The live figures set anew: as a page of its own, as what changes of a page, or all of it."""

from django.http import Http404, HttpResponseBadRequest, JsonResponse
from django.shortcuts import render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.cache import cache_control
from django.views.decorators.http import require_safe

from rigs.rules import rulebook
from rigs.rules.lapse import is_lapsed
from training.deck import signal
from training.people import sight

from . import tabled
from .live import FlightForm, LiveForm, frame, shown


def _book_or_404(name):
    if name not in rulebook.gear_names():
        raise Http404(_("No rule set for gear is called {name}.").format(name=name))
    return rulebook.nearest(name, timezone.localdate())


def _asked(request, name, form_class):
    return form_class(_book_or_404(name), request.GET or None)


def _page(request, form, caption):
    """Show ``form`` and what it shows, on a page of its own."""
    context = frame(form) | {"rulebook": form.rulebook, "caption": caption}
    if is_lapsed(form.rulebook, timezone.localdate()):
        context["lapsed"] = [form.rulebook]
    if not form.is_bound or form.is_valid():
        context |= shown(form)
    return render(request, "lessons/live.html", context)


def _figure(request, form, identifier):
    if form.is_bound and not form.is_valid():
        told = _("These settings do not fit. {again}").format(again=form.again)
        return HttpResponseBadRequest(told)
    return render(request, form.figure_template, shown(form, identifier))


@sight.anyone
@require_safe
def dropper(request, name):
    """Show the dropper under the rule set ``name`` as it was set, on a page of its own."""
    caption = _("How the dropper trails, and how high it lets the footrope fly")
    return _page(request, _asked(request, name, LiveForm), caption)


@sight.anyone
@require_safe
def dropper_figure(request, name):
    """Return only the drawing and the figures, for the page that is open already."""
    return _figure(request, _asked(request, name, LiveForm), "live")


@signal.opens
@sight.anyone
@cache_control(public=True, max_age=3600)
@require_safe
def dropper_table(request, name):
    """Return the drawing and the figures at many settings, for phones to take along."""
    return JsonResponse(tabled.table(_book_or_404(name)))


@sight.anyone
@require_safe
def flight(request, name):
    """Show the invented net in flight with a change, judged by the rule set ``name``."""
    caption = _("The net in flight, before and after the change")
    return _page(request, _asked(request, name, FlightForm), caption)


@sight.anyone
@require_safe
def flight_figure(request, name):
    """Return only the drawing and the words, for the page that is open already."""
    return _figure(request, _asked(request, name, FlightForm), "flight")


@signal.opens
@sight.anyone
@cache_control(public=True, max_age=3600)
@require_safe
def flight_table(request, name):
    """Return the drawing and the words of every change, for phones to take along."""
    return JsonResponse(tabled.flight_table(_book_or_404(name)))
