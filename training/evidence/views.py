"""One's own paired tows: enter, change, put aside and put back; what the fleet's say."""

import uuid
from typing import NamedTuple

from django.contrib import messages
from django.shortcuts import get_object_or_404, redirect, render
from django.template.response import TemplateResponse
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from training.deck import signal
from training.inbox import beside
from training.inbox.leading import led_on
from training.inbox.once import once
from training.people import sight
from training.people.sharing import What, level_of

from . import figures, keeping, pooled, words
from .forms import PairForm
from .models import PairedTows


class Shown(NamedTuple):
    """A pair and its rows: (group, without, with, share)."""

    pair: PairedTows
    rows: list


def shown(pairs):
    """Return a Shown for each of ``pairs``."""
    return [Shown(pair, figures.pair_rows(pair)) for pair in pairs]


@signal.opens
@never_cache
@sight.signed_in
@require_safe
def pairs(request):
    """Show one's own pairs, who sees them, and what the fleet's pairs say together."""
    evidence = pooled.evidence()
    context = {
        "pairs": shown(keeping.pairs_of(request.user)),
        "put_aside": keeping.put_aside_of(request.user),
        "level": level_of(request.user, What.CATCHES),
        "evidence": evidence,
        "needed": words.NEEDED,
        "told": figures.told(evidence),
        "figure": figures.ratios(evidence) if evidence.enough else None,
    }
    return render(request, "evidence/pairs.html", context)


def _pair_page(request, form, pair=None):
    context = {"form": form, "pair": pair, "seen": pair and beside.stamp(pair.changed)}
    return TemplateResponse(request, "evidence/pair_form.html", context)


@signal.opens
@sight.signed_in
@require_http_methods(["GET", "POST"])
@once
def pair_new(request):
    """Enter a pair of one's own; the same form sent twice makes one."""
    if request.method == "GET":
        return _pair_page(request, PairForm(owner=request.user, initial={"key": uuid.uuid4()}))
    form = PairForm(request.POST, owner=request.user)
    if not form.is_valid():
        return _pair_page(request, form)
    pair, is_new = keeping.keep_once(form)
    if not is_new:
        beside.differ(
            pair, form, keeping.as_now(pair), reverse("evidence:pair_edit", args=[pair.pk])
        )
    messages.success(request, _("The pair of tows is saved."))
    return led_on(request, reverse("evidence:pairs"))


@sight.owner
@require_http_methods(["GET", "POST"])
@once
def pair_edit(request, pk):
    """Put a pair of one's own right; if it was changed since its form was opened, one chooses."""
    mine = keeping.pairs_of(request.user)
    if request.method == "GET":
        pair = get_object_or_404(mine, pk=pk)
        return _pair_page(request, keeping.as_now(pair), pair)
    pair = get_object_or_404(mine.select_for_update(of=("self",)), pk=pk)
    form = PairForm(request.POST, owner=request.user, pair=pair)
    if not form.is_valid():
        return _pair_page(request, form, pair)
    beside.look(request, pair, form, keeping.as_now(pair), request.path)
    keeping.change(form)
    messages.success(request, _("Your changes are saved."))
    return led_on(request, reverse("evidence:pairs"))


@sight.owner
@require_POST
def pair_delete(request, pk):
    """Delete a pair of one's own, in such a way that it can be put back."""
    keeping.put_aside(get_object_or_404(sight.own(PairedTows.objects.all(), request.user), pk=pk))
    messages.success(request, _("Pair deleted. You can restore it below."))
    return redirect("evidence:pairs")


@sight.owner
@require_POST
def pair_restore(request, pk):
    """Put a deleted pair of one's own back."""
    keeping.put_back(get_object_or_404(sight.own(PairedTows.objects.all(), request.user), pk=pk))
    messages.success(request, _("Pair restored."))
    return redirect("evidence:pairs")
