"""What staff do with rounds: set them up, watch them, close them, read the figures."""

import uuid

from django.contrib import messages
from django.db.models import Count
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from rigs.words.say import gettext_lazy
from training.deck.downloads import table
from training.deck.forms import posted
from training.people import sight
from training.work import aside

from . import tables
from .forms import ChangeForm, RoundForm
from .making import rigs_of
from .models import Round
from .report import figures_of, turns_handed_in


def _round(request, pk):
    return get_object_or_404(sight.rows(Round.objects.all(), request.user), pk=pk)


def list_rounds(request):
    """Render all rounds with how many have handed in, for staff."""
    found = (
        sight.rows(Round.objects.all(), request.user)
        .annotate(officers=Count("turns"), handed_in=Count("turns__handed_in"))
        .order_by("-created", "-pk")
    )
    return render(request, "calibration/all_rounds.html", {"rounds": found})


@never_cache
@sight.whole_fleet
@require_http_methods(["GET", "HEAD", "POST"])
def new_round(request):
    """Set up a round."""
    form = RoundForm(posted(request), initial={"key": uuid.uuid4(), "count": 24})
    if request.method == "POST" and form.is_valid():
        round_ = form.save()
        messages.success(
            request, _("The round is set up. Its officers find it on their own pages.")
        )
        return redirect("calibration:round", round_.pk)
    context = {"form": form, "round": None}
    return render(
        request, "calibration/round_form.html", context, status=422 if form.errors else 200
    )


@never_cache
@sight.whole_fleet
@require_http_methods(["GET", "HEAD", "POST"])
def change_round(request, pk):
    """Change the title or the day, or add officers; the rigs stay as they are."""
    round_ = _round(request, pk)
    form = ChangeForm(posted(request), instance=round_)
    if request.method == "POST" and form.is_valid():
        form.save()
        messages.success(request, _("The round is changed."))
        return redirect("calibration:round", pk)
    context = {"form": form, "round": _round(request, pk)}
    return render(
        request, "calibration/round_form.html", context, status=422 if form.errors else 200
    )


@never_cache
@sight.staff
@require_safe
def show_round(request, pk):
    """Show how far a round has come, and the officers whom the member of staff looks after."""
    round_ = _round(request, pk)
    every = round_.turns.all()
    turns = sight.rows(every, request.user).select_related("officer")
    context = {
        "round": round_,
        "rulebook": round_.rulebook,
        "turns": turns.annotate(judged=Count("calls")),
        "officers": every.count(),
        "handed_in": every.exclude(handed_in=None).count(),
    }
    return render(request, "calibration/round.html", context)


@require_POST
@sight.whole_fleet
def close(request, pk):
    """Close a round, or open it again; doing the same twice changes nothing."""
    round_ = _round(request, pk)
    if request.POST.get("closed") == "yes":
        Round.objects.filter(pk=pk, closed=None).update(closed=timezone.now())
        messages.success(request, _("The round is closed. No more answers are accepted."))
    else:
        Round.objects.filter(pk=pk).update(closed=None)
        messages.success(request, _("The round is open again."))
    return redirect("calibration:round", round_.pk)


@never_cache
@sight.whole_fleet
@require_safe
def report(request, pk):
    """Show how the officers who handed in agree with the rule module and with each other."""
    round_ = _round(request, pk)
    turns = turns_handed_in(round_)
    figures = figures_of(round_, turns)
    context = {"round": round_, "rulebook": round_.rulebook, "figures": figures, "turns": turns}
    if figures:
        context["grid"] = tables.grid(figures)
    return render(request, "calibration/report.html", context)


def _number_of_judgements(request, pk, ending):
    round_ = _round(request, pk)
    return round_.count * round_.turns.filter(handed_in__isnull=False).count()


@never_cache
@sight.whole_fleet
@require_safe
@aside.if_long(gettext_lazy("Table of the calls of a round"), _number_of_judgements)
def judgements_table(request, pk, ending):
    """Download every call handed in, one line a rig and officer."""
    round_ = _round(request, pk)
    rows = tables.judgements(rigs_of(round_), turns_handed_in(round_))
    return table(ending, f"round-{round_.pk}-judgements", tables.JUDGEMENTS, rows)


@never_cache
@sight.whole_fleet
@require_safe
def summary_table(request, pk, ending):
    """Download the figures, one line an officer, a rule and a pair."""
    round_ = _round(request, pk)
    figures = figures_of(round_, turns_handed_in(round_))
    rows = tables.summary(figures) if figures else ()
    return table(ending, f"round-{round_.pk}-figures", tables.SUMMARY, rows)
