"""Vessels taken off the register, merged and put back."""

from django.contrib import messages
from django.core.paginator import Paginator
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from training.deck.forms import posted
from training.deck.numbers import whole_number
from training.people import sight

from ..models import Removal, Vessel
from ..removing import RemovalError, merge, put_back, remove
from .finding import vessels_for
from .forms import VesselForm
from .removal_forms import MergeForm, OtherVesselForm, RemoveForm, named, near

REMOVED_A_PAGE = 50


@never_cache
@sight.staff
@require_http_methods(["GET", "HEAD", "POST"])
def vessel_remove(request, pk):
    """Ask whether a vessel is to be taken off the register, and do it."""
    found = get_object_or_404(_still_or_gone(request), pk=pk)
    form = RemoveForm(posted(request))
    if request.method == "POST" and form.is_valid():
        try:
            remove(found, request.user, form.cleaned_data["key"])
        except RemovalError as error:
            messages.error(request, str(error))
        else:
            messages.success(
                request, _("{name} is off the register. Put it back here.").format(name=found.name)
            )
        return redirect("register:removed_vessels")
    context = {
        "form": form,
        "vessel": found,
        "aboard": found.crew.filter(until=None).count(),
        "events": found.events.standing().count(),
    }
    return render(request, "register/remove.html", context)


def _still_or_gone(request):
    """Return the vessels in reach; for what is sent twice those removed a moment ago too."""
    return sight.rows(
        Vessel.every.all() if request.method == "POST" else Vessel.objects.all(), request.user
    )


@never_cache
@sight.staff
@require_http_methods(["GET", "HEAD", "POST"])
def vessel_merge(request, pk):
    """Let staff say which other vessel is the same one, and make one of both."""
    found = get_object_or_404(vessels_for(request.user), pk=pk)
    chosen = whole_number(request.GET.get("other", ""))
    if chosen is not None:
        return _merge(request, found, get_object_or_404(_still_or_gone(request), pk=chosen))
    form = OtherVesselForm(request.GET or None)
    text = form.cleaned_data["text"] if form.is_valid() else ""
    others = vessels_for(request.user)
    context = {
        "form": form,
        "vessel": found,
        "text": text,
        "others": named(found, others, text) if text else near(found, others),
    }
    return render(request, "register/merge_with.html", context)


def _merge(request, vessel, other):
    gears = dict(VesselForm.base_fields["gear"].choices)
    form = MergeForm(posted(request), vessel=vessel, other=other, gears=gears)
    if request.method == "POST" and form.is_valid():
        key = form.cleaned_data["key"]
        try:
            merge(other, vessel, request.user, key, form.values())
        except RemovalError as error:
            messages.error(request, str(error))
        else:
            messages.success(
                request,
                _("{other} is now part of {name}.").format(other=other.name, name=vessel.name),
            )
        return redirect("register:vessel", vessel.pk)
    context = {"form": form, "vessel": vessel, "other": other}
    return render(request, "register/merge.html", context)


@never_cache
@sight.staff
@require_safe
def removed_vessels(request):
    """List the vessels that were taken off the register, the latest first."""
    found = sight.rows(Removal.objects.filter(undone=None), request.user)
    page = Paginator(found.select_related("vessel", "into", "by"), REMOVED_A_PAGE)
    page = page.get_page(request.GET.get("page"))
    return render(request, "register/removed.html", {"page": page})


@sight.staff
@require_POST
def vessel_put_back(request, pk):
    """Put a vessel back on the register, with all that had gone along into another."""
    removal = get_object_or_404(
        sight.rows(Removal.objects.select_related("vessel"), request.user), pk=pk
    )
    try:
        counts = put_back(removal, request.user)
    except RemovalError as error:
        messages.error(request, str(error))
        return redirect("register:removed_vessels")
    messages.success(request, _("{name} is back on the register.").format(name=removal.vessel.name))
    if counts.stayed:
        messages.info(
            request,
            _("What was moved or changed since stayed where it is. Check both vessels."),
        )
    return redirect("register:vessel", removal.vessel_id)
