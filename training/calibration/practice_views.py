"""Practice after a round: one rig at a time, until no rule is left on the list."""

from django.http import Http404
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods, require_safe

from training.deck.numbers import whole_number
from training.people import sight

from . import practice
from .models import PracticeRig, Turn


def _turn_or_404(request, pk):
    turns = Turn.objects.select_related("round").prefetch_related("calls", "practice")
    return get_object_or_404(sight.own(turns, request.user), pk=pk, handed_in__isnull=False)


@never_cache
@sight.officers
@require_http_methods(["GET", "HEAD", "POST"])
def practice_on(request, pk):
    """Show the open rig to practice on; take in the answer."""
    turn = _turn_or_404(request, pk)
    if request.method == "POST":
        return _hand_in(request, turn)
    found = practice.open_rig(turn)
    if found is None:
        return redirect("calibration:result", pk)
    return _ask(request, turn, found, practice.kind_of(found).form(practice.task_of(found))())


def _hand_in(request, turn):
    pk = whole_number(request.POST.get("rig", ""))
    if pk is None:
        raise Http404(_("An answer must say which rig it belongs to."))
    found = get_object_or_404(PracticeRig, pk=pk, turn=turn)
    # The button pressed twice: the first answer stands.
    if found.handed_in is None:
        form = practice.kind_of(found).form(practice.task_of(found))(request.POST)
        if not form.is_valid():
            return _ask(request, turn, found, form)
        practice.hand_in(found, form.raw())
    return redirect("calibration:practiced", found.pk)


def _ask(request, turn, found, form):
    task = practice.task_of(found)
    standings = practice.standings(turn)
    context = {
        "layout": "calibration/practice.html",
        "kind": practice.kind_of(found),
        "turn": turn,
        "practice_rig": found,
        "standings": [each for each in standings if not each.holds],
        "task": task,
        "rulebook": task.rulebook,
        "form": form,
        "shown": practice.kind_of(found).shown(task),
    }
    return render(request, practice.kind_of(found).template, context)


@never_cache
@sight.officers
@require_safe
def practiced(request, pk):
    """Show a rig practiced on, marked, to the officer and to staff."""
    found = PracticeRig.objects.select_related("turn__round", "turn__officer")
    found = get_object_or_404(sight.rows(found, request.user), pk=pk, handed_in__isnull=False)
    turn = found.turn
    marked = practice.marked(found)
    standings = practice.standings(turn)
    context = {
        "turn": turn,
        "practice_rig": found,
        "own": turn.officer == request.user,
        "standings": standings,
        "left": [each for each in standings if not each.holds],
        "called_right": found.calls[found.rule],
        "this": next(each for each in standings if each.requirement.key == found.rule),
        "marked": marked,
        "wrong": [line for line in marked.lines if not line.right],
        "right": [line for line in marked.lines if line.right],
        "rulebook": turn.round.rulebook,
    }
    return render(request, "calibration/practiced.html", context)
