"""The live figure set anew: as a page of its own, as what changes of a page, or all of it."""

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
from .live import LiveForm, shown


def _book_or_404(name):
    if name not in rulebook.gear_names():
        raise Http404(_("No rule set for gear is called {name}.").format(name=name))
    return rulebook.nearest(name, timezone.localdate())


def _asked(request, name):
    book = _book_or_404(name)
    return book, LiveForm(book, request.GET or None)


@sight.anyone
@require_safe
def dropper(request, name):
    """Show the dropper under the rule set ``name`` as it was set, on a page of its own."""
    book, form = _asked(request, name)
    context = {"form": form, "rulebook_name": name, "rulebook": book}
    if is_lapsed(book, timezone.localdate()):
        context["lapsed"] = [book]
    if not form.is_bound or form.is_valid():
        context |= shown(form)
    return render(request, "lessons/live.html", context)


@sight.anyone
@require_safe
def dropper_figure(request, name):
    """Return only the drawing and the figures, for the page that is open already."""
    __, form = _asked(request, name)
    if form.is_bound and not form.is_valid():
        return HttpResponseBadRequest(_("These settings do not fit. Move a slider to try again."))
    return render(request, "lessons/live_figure.html", shown(form))


@signal.opens
@sight.anyone
@cache_control(public=True, max_age=3600)
@require_safe
def dropper_table(request, name):
    """Return the drawing and the figures at many settings, for phones to take along."""
    return JsonResponse(tabled.table(_book_or_404(name)))
