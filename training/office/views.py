"""What a balancer, a monitor and the office ask: does the site run, and is all well?"""

from django.conf import settings
from django.http import HttpResponse, JsonResponse
from django.shortcuts import render
from django.utils import timezone
from django.utils.crypto import constant_time_compare
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

from training.deck import readiness
from training.people import sight

# Anybody may ask, and looking costs something: it is done once in so many seconds.
LOOK_EVERY = 5


def _may_read(request):
    """Return whether the caller shows the token; without one nobody reads details."""
    shown = request.META.get("HTTP_AUTHORIZATION", "").removeprefix("Bearer ")
    return bool(settings.READY_TOKEN) and constant_time_compare(shown, settings.READY_TOKEN)


@sight.anyone
@require_safe
@never_cache
def health(request):
    """Say that this process answers; asks neither database nor disk."""
    return HttpResponse("ok\n", content_type="text/plain")


@sight.anyone
@require_safe
@never_cache
def ready(request):
    """Say whether people may be sent to this machine; to those with the token, what is wrong."""
    found = readiness.lately(LOOK_EVERY)
    serves = readiness.may_serve(found)
    told = {"ready": serves}
    if _may_read(request):
        told["checks"] = [
            {"name": each.name, "well": each.well, "stops": each.stops, "words": each.words}
            for each in found
        ]
    return JsonResponse(told, status=200 if serves else 503)


@never_cache
@sight.whole_fleet
@require_safe
def well(request):
    """Show in words what is well and what is not, what is not first."""
    found = sorted(readiness.findings(), key=lambda each: each.well)
    context = {
        "found": found,
        "wrong": sum(not each.well for each in found),
        "moment": timezone.now(),
        "mailed": settings.ERROR_MAIL,
    }
    return render(request, "office/well.html", context)
