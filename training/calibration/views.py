"""What officers do in a round: judge rig by rig, look it over, hand it in."""

from django.contrib import messages
from django.http import Http404
from django.shortcuts import get_object_or_404, redirect, render
from django.template.response import TemplateResponse
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from training.deck import signal
from training.deck.numbers import whole_number
from training.inbox.once import once
from training.people import sight

from . import practice, turns
from .forms import CallForm
from .models import Turn
from .result import judged, result
from .showing import shown
from .staff_views import list_rounds


@signal.opens
@never_cache
@sight.officers
@require_safe
def rounds(request):
    """List the rounds: an officer's own, or all of them for staff."""
    if request.user.is_staff:
        return list_rounds(request)
    found = (
        sight.own(Turn.objects.all(), request.user)
        .select_related("round")
        .prefetch_related("calls", "practice")
        .order_by("-round__created", "-pk")
    )
    rows = [
        {
            "turn": turn,
            "judged": len(turn.calls.all()),
            "is_open": turns.is_open(turn),
            "left": [each for each in practice.standings(turn) if not each.holds]
            if turn.handed_in
            else [],
        }
        for turn in found
    ]
    return render(request, "calibration/rounds.html", {"rows": rows})


def _own(request, pk):
    return get_object_or_404(sight.own(Turn.objects.select_related("round"), request.user), pk=pk)


def _to_be_read(request, pk):
    """Return the user's own turn, or anybody's for staff."""
    found = Turn.objects.select_related("round", "officer")
    return get_object_or_404(sight.rows(found, request.user), pk=pk)


@signal.opens
@never_cache
@sight.officers
@require_safe
def turn(request, pk):
    """Show which rigs are judged, and what handing in means."""
    found = _own(request, pk)
    if found.handed_in:
        return redirect("calibration:result", pk)
    entries = turns.entries(found)
    context = {
        "turn": found,
        "round": found.round,
        "entries": entries,
        "left": sum(each.call is None for each in entries),
        "next": turns.next_open(entries),
        "is_open": turns.is_open(found),
    }
    return render(request, "calibration/turn.html", context)


def _entry(entries, place):
    try:
        return next(each for each in entries if each.place == place)
    except StopIteration:
        raise Http404(_("There is no rig {place} in this round.").format(place=place)) from None


@signal.opens
@never_cache
@sight.officers
@require_http_methods(["GET", "HEAD", "POST"])
@once
def rig(request, pk, place):
    """Show one rig to be judged and save what is said of it; once handed in, what is true of it."""
    if request.method == "POST":
        return _save(request, _own(request, pk), place)
    found = _to_be_read(request, pk)
    entries = turns.entries(found)
    entry = _entry(entries, place)
    if found.handed_in:
        context = {
            "turn": found,
            "round": found.round,
            "entry": entry,
            "lines": judged(entry),
            "shown": shown(entry.shown, entry.shown.verdict),
            "own": found.officer == request.user,
        }
        return render(request, "calibration/judged.html", context)
    if found.officer != request.user:
        raise Http404(_("This round is still being judged."))
    if not turns.is_open(found):
        return redirect("calibration:turn", pk)
    initial = entry.call and {"verdict": entry.call.verdict, "failing": entry.call.failing}
    return _ask(request, found, place, CallForm(initial=initial, rig=entry.shown))


def _save(request, found, place):
    entries = turns.entries(found)
    entry = _entry(entries, place)
    revision = whole_number(request.POST.get("revision", ""))
    if revision is None:
        raise Http404(_("A judgment must say which one it follows."))
    form = CallForm(request.POST, rig=entry.shown)
    if not form.is_valid():
        return _ask(request, found, place, form)
    try:
        turns.save(found, entry.shown.number, revision=revision, **form.cleaned_data)
    except turns.TurnClosed as error:
        messages.error(request, str(error))
        return redirect("calibration:turn", pk=found.pk)
    except turns.StaleCall as error:
        return _ask(request, found, place, form, problem=str(error))
    onward = turns.next_open([each for each in entries if each.place != place], after=place)
    if onward is None:
        return redirect("calibration:turn", found.pk)
    return redirect("calibration:rig", found.pk, onward.place)


def _ask(request, found, place, form, problem=""):
    entries = turns.entries(found)
    entry = _entry(entries, place)
    context = {
        "turn": found,
        "round": found.round,
        "entry": entry,
        "count": len(entries),
        "saved": [each for each in entries if each.call and each.place != entry.place],
        "before": entry.place - 1,
        "after": entry.place + 1 if entry.place < len(entries) else 0,
        "form": form,
        "problem": problem,
        "rulebook": found.round.rulebook,
        "shown": shown(entry.shown),
    }
    return TemplateResponse(request, "calibration/rig.html", context)


@require_POST
@sight.officers
def hand_in(request, pk):
    """Hand the turn in, once."""
    found = _own(request, pk)
    try:
        turns.hand_in(found)
    except (turns.NotFinished, turns.TurnClosed) as error:
        messages.error(request, str(error))
        return redirect("calibration:turn", pk)
    return redirect("calibration:result", pk)


@never_cache
@sight.officers
@require_safe
def show_result(request, pk):
    """Show how an officer's turn stands to the rule module: to the officer, and to staff."""
    found = _to_be_read(request, pk)
    if found.handed_in is None:
        if found.officer != request.user:
            raise Http404(_("This round is still being judged."))
        return redirect("calibration:turn", pk)
    context = {"own": found.officer == request.user, **result(found)}
    return render(request, "calibration/result.html", context)
