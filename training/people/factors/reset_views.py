"""Phones that somebody lost: asking that one be taken off, and deciding about it."""

from django.contrib import messages
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_POST, require_safe

from .. import second, sight
from ..models import PhoneReset, User
from . import resetting
from .matters import when_it_matters


@never_cache
@sight.whole_fleet
@require_safe
def phone_resets(request):
    """List whose phone is to be taken off, and why one cannot agree to it oneself."""
    beside, everybody = second.Beside(request.user), second.Able()
    waiting = [_shown(each, beside, everybody) for each in resetting.waiting()]
    return render(request, "people/factors/resets.html", {"waiting": waiting})


def _shown(held, beside, everybody):
    why_not = resetting.why_not(held, beside)
    return {
        "held": held,
        "own": held.by_id == beside.person.pk,
        "why_not": why_not,
        "able": resetting.able(held, everybody) if why_not else [],
    }


def _named(request, model, field):
    """Return the row of ``model`` whose number ``request`` has in ``field``."""
    number = request.POST.get(field, "")
    pk = int(number) if number.isascii() and number.isdecimal() and len(number) < 10 else 0
    return get_object_or_404(sight.rows(model.objects.all(), request.user), pk=pk)


@never_cache
@sight.whole_fleet
@when_it_matters
@require_POST
def ask_phone_reset(request):
    """Ask that somebody's phone be taken off."""
    try:
        resetting.ask(_named(request, User, "person"), request.user)
    except resetting.MayNotReset as error:
        messages.error(request, str(error))
    else:
        messages.success(request, _("Asked. A second member of the staff has to agree."))
    return redirect("people:phone_resets")


@never_cache
@sight.whole_fleet
@when_it_matters
@require_POST
def decide_phone_reset(request):
    """Take a phone off, or leave it as it is."""
    held = _named(request, PhoneReset, "reset")
    try:
        if "agree" in request.POST:
            resetting.agree(held, request.user)
            said = _("{name} can sign in by password and set up another phone.")
            messages.success(request, said.format(name=held.person))
        else:
            resetting.turn_down(held, request.user)
            messages.success(request, _("The phone stays as it is."))
    except resetting.MayNotReset as error:
        messages.error(request, str(error))
    return redirect("people:phone_resets")
