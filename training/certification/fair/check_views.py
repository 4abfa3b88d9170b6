"""The short check by which a holder renews a certificate."""

import uuid

from django.contrib import messages
from django.http import Http404
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods

from training.people import sight
from training.recall import sets

from ..certificate_views import held
from . import recheck


@never_cache
@sight.owner
@require_http_methods(["GET", "HEAD", "POST"])
def check(request, code):
    """Say what the check asks and how the last ones went; begin it, or go on with it."""
    found = held(request.user, code)
    if request.method == "POST":
        try:
            begun = recheck.begin(found, _key(request))
        except recheck.MayNotCheck as error:
            messages.error(request, str(error))
            return redirect("certificates:check", found.code)
        return redirect("recall:set", begun.set_id)
    asked = recheck.plan(found)
    context = {
        "certificate": found,
        "hindrance": recheck.hindrance(found),
        "going_on": recheck.going_on(found),
        "plan": asked,
        "minutes": sets.minutes(asked.readings),
        "each": recheck.EACH,
        "past": [each for each in found.checks.select_related("set") if each.settled],
        "months": recheck.MONTHS,
        "wait_days": recheck.WAIT_DAYS,
        "most_tries": recheck.MOST_TRIES,
        "left": recheck.MOST_RENEWALS - len(recheck.renewals(found)),
        "most_renewals": recheck.MOST_RENEWALS,
        "key": uuid.uuid4(),
    }
    return render(request, "certification/fair/check.html", context)


def _key(request):
    try:
        return uuid.UUID(request.POST.get("key", ""))
    except ValueError:
        raise Http404(_("A check is started from its page.")) from None
