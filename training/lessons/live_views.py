"""The live figure set anew: as a page of its own, or as the part of a page that changes."""

from django.http import Http404, HttpResponseBadRequest
from django.shortcuts import render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_safe

from rigs.rules import rulebook
from rigs.rules.lapse import is_lapsed
from training.people import sight

from .live import LiveForm, shown


def _asked(request, name):
    today = timezone.localdate()
    if name not in rulebook.gear_names():
        raise Http404(_("No rule set for gear is called {name}.").format(name=name))
    book = rulebook.nearest(name, today)
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
