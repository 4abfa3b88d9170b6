"""The learning record for other systems, as a file."""

import json

from django.conf import settings
from django.http import StreamingHttpResponse
from django.shortcuts import render
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

from rigs.words.say import gettext_lazy
from training.deck.passing import passing
from training.people import factors, sight
from training.work import aside

from .models import Delivery, Refused
from .statements import EVENTS, every, number

REFUSALS_SHOWN = 20


def address_of(request):
    """Return the site's address: as set, or as it was asked for."""
    return settings.SITE_ADDRESS or request.build_absolute_uri("/").rstrip("/")


@never_cache
@sight.whole_fleet
@require_safe
def overview(request):
    """Show what can be taken from here, and how far the sending has come."""
    last = dict(Delivery.objects.values_list("event", "last"))
    context = {
        "endpoint": settings.XAPI_ENDPOINT,
        "events": [
            (
                event.model._meta.verbose_name_plural,
                event.rows().count(),
                event.rows().filter(pk__lte=last.get(event.key, 0)).count(),
            )
            for event in EVENTS
        ],
        "refused": Refused.objects.count(),
        "refusals": Refused.objects.order_by("-made", "-pk")[:REFUSALS_SHOWN],
    }
    return render(request, "interchange/overview.html", context)


def as_array(statements):
    """Yield a JSON array of ``statements``, one a line."""
    yield "["
    between = "\n"
    for each in statements:
        yield between + json.dumps(each)
        between = ",\n"
    yield "\n]\n"


@never_cache
@sight.whole_fleet
@factors.when_it_matters(to_look=True)
@require_safe
@aside.if_long(gettext_lazy("Learning records"), lambda request: number())
def download(request):
    """Download every statement, as it is made."""
    return StreamingHttpResponse(
        as_array(passing(every(address_of(request)))),
        content_type="application/json",
        headers={"Content-Disposition": 'attachment; filename="statements.json"'},
    )
