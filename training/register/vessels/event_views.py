"""What happened to a vessel: recorded, corrected, withdrawn, and what the stages are called."""

from django.contrib import messages
from django.core.exceptions import PermissionDenied
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods

from training.deck.forms import posted
from training.people import sight

from .. import events
from ..models import AdoptionEvent
from ..wording import meanings, rename, stage_words
from .event_forms import EventForm, StageWordsForm, WithdrawForm
from .finding import vessels_for


@never_cache
@sight.staff
@require_http_methods(["GET", "HEAD", "POST"])
def event_new(request, pk):
    """Record a stage that a vessel reached."""
    vessel = get_object_or_404(vessels_for(request.user), pk=pk)
    form = EventForm(posted(request), words=stage_words())
    if request.method == "POST" and form.is_valid():
        events.record(vessel, by=request.user, **form.told())
        messages.success(request, _("It is recorded."))
        return redirect("register:vessel", vessel.pk)
    return render(request, "register/event_form.html", {"form": form, "vessel": vessel})


def _event(request, pk):
    found = AdoptionEvent.objects.filter(is_withdrawal=False).select_related("vessel", "by")
    return get_object_or_404(sight.rows(found, request.user), pk=pk)


@never_cache
@sight.staff
@require_http_methods(["GET", "HEAD", "POST"])
def event_correct(request, pk):
    """Record what really happened, in place of an event that stays to be seen."""
    event = _event(request, pk)
    words = stage_words()
    was = {"stage": event.stage, "day": event.day, "known": event.known}
    form = EventForm(posted(request), words=words, initial=was)
    if request.method == "POST" and form.is_valid():
        return _follow(request, event, events.correct, form, _("The correction is recorded."))
    context = {"form": form, "vessel": event.vessel, "event": event, "was": words[event.stage]}
    return render(request, "register/event_form.html", context)


@never_cache
@sight.staff
@require_http_methods(["GET", "HEAD", "POST"])
def event_withdraw(request, pk):
    """Withdraw an event that did not happen; it stays to be seen."""
    event = _event(request, pk)
    form = WithdrawForm(posted(request))
    if request.method == "POST" and form.is_valid():
        return _follow(request, event, events.withdraw, form, _("It is withdrawn."))
    context = {
        "form": form,
        "vessel": event.vessel,
        "event": event,
        "was": stage_words()[event.stage],
    }
    return render(request, "register/event_withdraw.html", context)


def _follow(request, event, act, form, done):
    try:
        act(event, by=request.user, **form.told())
    except events.AlreadyCorrected as error:
        messages.error(request, str(error))
    else:
        messages.success(request, done)
    return redirect("register:vessel", event.vessel_id)


@never_cache
@sight.staff
@require_http_methods(["GET", "HEAD", "POST"])
def stages(request):
    """Tell what the stages mean; staff of the whole fleet say what they are called."""
    if request.method == "POST" and not request.user.sees_whole_fleet:
        raise PermissionDenied
    words = stage_words()
    form = StageWordsForm(posted(request), words=words)
    if request.method == "POST" and form.is_valid():
        rename(form.cleaned_data)
        messages.success(request, _("The stages are called so on every page from now on."))
        return redirect("register:stages")
    return render(request, "register/stages.html", {"form": form, "meanings": meanings(words)})
