"""People say on which vessel they fish, and that they do so no more."""

from django.contrib import messages
from django.db import transaction
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods, require_POST

from training.deck.forms import posted
from training.people import sight

from .. import aboard
from ..models import BerthAsked, Crew, Vessel
from .own_forms import OwnVesselForm

MOST_OFFERED = 200  # names a phone can still scroll through


@never_cache
@sight.signed_in
@require_http_methods(["GET", "HEAD", "POST"])
def own_vessels(request):
    """Show on which vessels a person fishes, and take another one."""
    form = OwnVesselForm(posted(request))
    if request.method == "POST" and form.is_valid():
        vessel = form.cleaned_data["vessel"]
        with transaction.atomic():
            Crew.objects.get_or_create(
                vessel=vessel,
                user=request.user,
                until=None,
                defaults={"part": form.cleaned_data["part"]},
            )
        messages.success(request, _("You are listed on {name}.").format(name=vessel.name))
        return redirect("register:own_vessels")
    context = {
        "form": form,
        "berths": sight.own(Crew.objects.filter(until=None), request.user).select_related("vessel"),
        "asked": _asked(request).select_related("vessel"),
        "offered": Vessel.objects.filter(
            is_fishing=True,
            harbor__in=request.user.memberships.values("group__harbor"),
        )[:MOST_OFFERED],
    }
    return render(request, "register/own.html", context)


def _asked(request):
    return sight.own(BerthAsked.objects.waiting(), request.user)


@sight.owner
@require_POST
def own_vessel_answer(request, pk):
    """Say whether one fishes on a vessel, as staff said; a yes lets its staff see one."""
    found = sight.own(BerthAsked.objects.select_related("vessel"), request.user)
    asked = get_object_or_404(found, pk=pk)
    says_yes = request.POST.get("answer") == "yes"
    aboard.answer(asked, says_yes)
    name = asked.vessel.name
    if says_yes:
        messages.success(request, _("You are listed on {name}.").format(name=name))
    else:
        messages.success(request, _("Saved: you do not fish on {name}.").format(name=name))
    return redirect("register:own_vessels")


@sight.owner
@require_POST
def own_vessel_leave(request, pk):
    """Note that a person fishes on a vessel no more, from today."""
    berth = get_object_or_404(sight.own(Crew.objects.select_related("vessel"), request.user), pk=pk)
    if berth.until is None:
        berth.until = timezone.localdate()
        berth.save(update_fields=["until"])
    messages.success(
        request, _("You are listed as having left {name}.").format(name=berth.vessel.name)
    )
    return redirect("register:own_vessels")
