"""The shine log: add a tow, read what it says."""

import uuid

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.db import transaction
from django.shortcuts import get_object_or_404, redirect, render
from django.template.response import TemplateResponse
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from rigs import tuning
from rigs.drawing.heights import heights_view
from rigs.drawing.trend import trend_view
from rigs.physics.tow.report import MODEL_BASIS, MODEL_NAME, RULE_BASIS, RULE_NAME
from rigs.rules.lapse import is_lapsed
from training.deck import signal
from training.deck.drawn import drawn
from training.deck.fields import DayField
from training.inbox import beside
from training.inbox.once import once
from training.people import sight

from . import shine_log
from .log_forms import TowForm
from .models import Tow, planned_of
from .views import led_on, own_net


def _own_tow(request, pk):
    """Return the tow ``pk`` of the person who asks, deleted or not; else answer 404."""
    tows = sight.own(Tow.objects.filter(net__deleted=None), request.user).select_related("net")
    return get_object_or_404(tows, pk=pk)


def _tow_to_change(request, pk):
    """Return the tow ``pk`` of the person who asks, if it is not deleted; else answer 404."""
    tows = Tow.objects.there().filter(net__deleted=None)
    if request.method == "POST":  # nobody else changes it until the transaction ends
        tows = tows.select_for_update(of=("self",))
    return get_object_or_404(sight.own(tows, request.user).select_related("net"), pk=pk)


@signal.opens
@sight.owner
@require_GET
def log(request, pk):
    """Show what a net's tows say, the latest first."""
    net = own_net(request, pk)
    today = timezone.localdate()
    found, standard = shine_log.read(net, today), tuning.standard(today)
    context = {
        "net": net,
        "log": found,
        "plan": found.plan,
        "rulebook": found.plan.rulebook,
        "tuning": found.tuning,
        "standard": standard,
        "stands_in": tuning.STANDS_IN,
        "lapsed_standard": [
            book for book in [tuning.standard_book(today)] if is_lapsed(book, today)
        ],
        "put_aside": net.tows.put_aside().order_by("-deleted")[:5],
    }
    if found.tuning is not None:
        window = found.tuning.window
        context |= {
            "latest": found.heights[-1],
            "latest_tow": found.tows[-1],
            "heights": drawn(heights_view(found.heights[-1], window), "tow-heights"),
            "how": _how(found.tuning),
            "trend": drawn(trend_view(found.heights, window, standard.limit), "tow-trend"),
        }
    return render(request, "nets/log.html", context)


def _how(tuned):
    """Return how the heights and effects of a tuning.Tuning are worked out, as (what, how)."""
    told = [(RULE_NAME, RULE_BASIS), (MODEL_NAME, MODEL_BASIS)]
    bases = dict.fromkeys(each.effect.basis for each in tuned.advice if each.effect)
    return told + [(_("What a change does"), basis) for basis in bases]


def _entered(form):
    return {
        "day": form.cleaned_data["day"],
        "typed": form.typed,
        "measures": form.measures,
    }


def _day_in(data):
    """Return the day that a posted tow tells, None if it cannot be read."""
    try:
        return DayField(required=False).clean(data.get("day"))
    except ValidationError:
        return None


def _made_with(net, day, tow):
    """Return what a tow of ``net`` on ``day`` is made with: ``tow``, if it was there, as it was."""
    if tow is not None and (day == tow.day or net.rigged(day) is None):
        return tow.net_was
    return net.towed(day)


def _form(request, net, tow=None):
    """Return the TowForm of a tow that is new, or of ``tow``, and what the tow is made with."""
    start = timezone.localdate() if tow is None else tow.day
    if request.method == "GET":
        was = _made_with(net, start, tow)
        entries = net.next_tow(start) | {"key": uuid.uuid4()} if tow is None else tow.entries
        return TowForm(rig=planned_of(was, start), initial=entries), was
    day = _day_in(request.POST) or start
    was = _made_with(net, day, tow)
    first = net.riggings.there().first() if tow is None else None
    return TowForm(request.POST, rig=planned_of(was, day), since=first and first.day), was


def _tow_page(request, net, form, tow=None):
    rigging = net.rigged()
    context = {"net": net, "tow": tow, "form": form, "rigging": rigging}
    context["seen"] = beside.stamp((tow or net).changed)
    if rigging is not None:
        context["follows"] = rigging.rig() == net.plan().planned
    return TemplateResponse(request, "nets/tow_form.html", context)


def _as_now(tow):
    """Return the TowForm that shows ``tow`` as it is."""
    return TowForm(rig=tow.rig(), initial=tow.entries)


def _warn_of_other_net(request, net, day):
    """Say so if the net, as which a tow counts, changed after the tow's form was opened."""
    seen = request.POST.get("seen")
    if seen and seen != beside.stamp(net.changed) and net.rigged(day) is None:
        words = _(
            "The net was changed after you opened the form of this tow. The tow counts for the net "
            "as it is now. Check that it was made with that one."
        )
        messages.warning(request, words)


@signal.opens
@sight.owner
@require_http_methods(["GET", "POST"])
@once
def tow_new(request, pk):
    """Add a tow; the same form sent twice makes one."""
    net = own_net(request, pk)
    form, was = _form(request, net)
    if not form.is_valid():
        return _tow_page(request, net, form)
    with transaction.atomic():
        tow, is_new = Tow.objects.get_or_create(
            net=net, key=form.cleaned_data["key"], defaults=_entered(form) | {"net_was": was}
        )
    if is_new:
        _warn_of_other_net(request, net, tow.day)
    else:
        beside.differ(tow, form, _as_now(tow), reverse("nets:tow_edit", args=[tow.pk]))
    return led_on(request, "nets:log", net.pk)


@signal.opens
@sight.owner
@require_http_methods(["GET", "POST"])
@once
def tow_edit(request, pk):
    """
    Change a tow's entries; on another day it is one of the rig of that day.

    If it was changed since its form was opened, its owner chooses.
    """
    tow = _tow_to_change(request, pk)
    form, was = _form(request, tow.net, tow)
    if not form.is_valid():
        return _tow_page(request, tow.net, form, tow)
    beside.look(request, tow, form, _as_now(tow), request.path)
    for name, value in (_entered(form) | {"net_was": was}).items():
        setattr(tow, name, value)
    tow.save()
    return led_on(request, "nets:log", tow.net_id)


@sight.owner
@require_POST
def tow_delete(request, pk):
    """Take a tow out of the log, in such a way that it can be put back."""
    tow = _own_tow(request, pk)
    tow.put_aside()
    messages.success(request, _("Tow deleted. You can undo this below."))
    return redirect("nets:log", tow.net_id)


@sight.owner
@require_POST
def tow_restore(request, pk):
    """Put a tow back into the log."""
    tow = _own_tow(request, pk)
    tow.put_back()
    messages.success(request, _("Tow restored."))
    return redirect("nets:log", tow.net_id)
