"""What is asked about accounts that takes a second person: seen, and decided."""

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import Http404
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_POST, require_safe

from training.letters.views import site_address
from training.people import factors, second, sight

from . import asking
from .models import AccountRequest
from .views import mail_invitation

A_PAGE = 25


@never_cache
@sight.whole_fleet
@require_safe
def requests(request):
    """List what waits for a second person, the oldest first, and what was decided."""
    found = AccountRequest.objects.select_related("person", "by", "decided_by")
    waiting = found.filter(outcome=asking.Outcome.WAITING).prefetch_related("person__reaches")
    beside, everybody = second.Beside(request.user), second.Able()
    entries = [
        {
            "request": each,
            "own": each.by_id == request.user.pk,
            "mine": each.person_id == request.user.pk,
            "takes_away": asking.only_takes_away(each),
            "differences": asking.differences(each),
            "hindrance": (hindrance := asking.hindrance(each, beside)),
            "able": asking.able(each, everybody) if hindrance else [],
        }
        for each in waiting
    ]
    decided = found.exclude(outcome=asking.Outcome.WAITING).order_by("-decided", "-pk")
    page = Paginator(decided, A_PAGE).get_page(request.GET.get("page"))
    return render(request, "accounts/requests.html", {"entries": entries, "page": page})


def _agree(request, found):
    is_new = found.person_id is None
    agreed = asking.agree(found, request.user, site_address(request))
    messages.success(request, _("Agreed. It applies from now on."))
    if is_new:
        mail_invitation(request, agreed.person, agreed.key)


def _turn_down(request, found):
    asking.turn_down(found, request.user)
    messages.success(request, _("Turned down. Nothing changes."))


def _take_back(request, found):
    asking.take_back(found, request.user)
    messages.success(request, _("Taken back. Nothing changes."))


ACTS = {"agree": _agree, "turn-down": _turn_down, "take-back": _take_back}


@sight.whole_fleet
@factors.when_it_matters
@require_POST
def decide(request, pk, what):
    """Agree to a request, turn it down or take it back, or say why that cannot be done."""
    if what not in ACTS:
        raise Http404(_("Nothing called {what} can be done with a request.").format(what=what))
    found = get_object_or_404(AccountRequest.objects.select_related("person", "by"), pk=pk)
    try:
        ACTS[what](request, found)
    except asking.MayNotDecide as error:
        messages.error(request, str(error))
    return redirect("accounts:requests")
