"""One stage recorded for many vessels, as after an evening on the dock; and undone at once."""

from django.contrib import messages
from django.http import Http404
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.utils.translation import ngettext
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from training.deck.forms import posted
from training.people import sight

from .. import events
from ..models import AdoptionEvent
from ..wording import stage_words
from .finding import harbors_for, narrowed, vessels_for
from .forms import VesselFilterForm
from .many_forms import ManyForm

MOST_AT_ONCE = 200
"""So many vessels one can still look through and check."""


@never_cache
@sight.staff
@require_http_methods(["GET", "HEAD", "POST"])
def stage_many(request):
    """Let staff check the vessels that reached a stage, and record it for all of them."""
    words = stage_words()
    narrowing = VesselFilterForm(request.GET, harbors=harbors_for(request.user), words=words)
    found = narrowed(vessels_for(request.user), **narrowing.chosen())
    form = ManyForm(posted(request), words=words, vessels=vessels_for(request.user))
    if request.method == "POST" and form.is_valid():
        events.record_many(form.cleaned_data["vessels"], by=request.user, **form.told())
        return redirect("register:stage_many_done", form.cleaned_data["key"])
    shown = list(found.select_related("standing")[: MOST_AT_ONCE + 1])
    checked = set(request.POST.getlist("vessels"))
    context = {
        "narrowing": narrowing,
        "form": form,
        "rows": [
            (each, _stage(each, words), str(each.pk) in checked) for each in shown[:MOST_AT_ONCE]
        ],
        "more": len(shown) > MOST_AT_ONCE,
        "most": MOST_AT_ONCE,
    }
    return render(request, "register/stage_many.html", context)


def _stage(vessel, words):
    standing = getattr(vessel, "standing", None)
    return words.get(standing.stage, "") if standing else ""


def _recorded(request, key):
    """Return the events recorded at one time under ``key``, with their vessels."""
    found = AdoptionEvent.objects.filter(key__startswith=events.key_of_many(key))
    found = sight.rows(found.select_related("vessel__standing", "correction"), request.user)
    if not found:
        raise Http404
    return found.order_by("vessel__harbor", "vessel__name")


@never_cache
@sight.staff
@require_safe
def stage_many_done(request, key):
    """Show for which vessels a stage was recorded, and where each of them is now."""
    found, words = list(_recorded(request, key)), stage_words()
    context = {
        "key": key,
        "stage": words[found[0].stage],
        "day": found[0].day,
        "rows": [(each, _stage(each.vessel, words)) for each in found],
        "left": sum(not hasattr(each, "correction") for each in found),
    }
    return render(request, "register/stage_many_done.html", context)


@sight.staff
@require_POST
def stage_many_undo(request, key):
    """Withdraw what was recorded for many vessels at one time."""
    done = 0
    for event in _recorded(request, key):
        if not hasattr(event, "correction"):
            told = {"key": f"undo:{event.key}", "note": _("Undone for all vessels at once.")}
            events.withdraw(event, by=request.user, **told)
            done += 1
    messages.success(
        request,
        ngettext("Withdrawn for {number} vessel.", "Withdrawn for {number} vessels.", done).format(
            number=done
        ),
    )
    return redirect("register:stage_many_done", key)
