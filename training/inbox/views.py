"""What phones sent later: all of it, what came of it, and the choice between two."""

from django.core.paginator import Paginator
from django.http import Http404, JsonResponse
from django.middleware.csrf import get_token
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext_lazy
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_POST, require_safe

from training.deck import signal
from training.people import sight

from .models import Arrival
from .once import take

A_PAGE = 50


def _own(request):
    return sight.own(Arrival.objects.all(), request.user)


@signal.needs_signal(gettext_lazy("it lists what the site has received"))
@sight.signed_in
@require_safe
def arrived(request):
    """Show what phones sent later, and what came of each."""
    page = Paginator(_own(request), A_PAGE).get_page(request.GET.get("page"))
    return render(request, "inbox/arrived.html", {"page": page})


@signal.needs_signal(gettext_lazy("it compares with what the site has now"))
@sight.owner
@require_safe
def arrival(request, pk):
    """Show one arrival, all that was typed, and what can be done about it."""
    found = get_object_or_404(_own(request), pk=pk)
    return render(request, "inbox/arrival.html", {"arrival": found})


@sight.owner
@require_POST
def settle(request, pk):
    """Note that nothing more is to be done about an arrival; what was typed stays with it."""
    found = get_object_or_404(_own(request), pk=pk)
    if found.is_open:
        found.settled = timezone.now()
        found.save(update_fields=["settled"])
    return redirect("inbox:arrived")


@never_cache
@sight.anyone
@require_safe
def token(request):
    """Tell a script whose turn it is on this phone, and a token for that person's forms."""
    return JsonResponse({"token": get_token(request), "person": request.user.pk or 0})


@sight.signed_in
@require_POST
def unplaced(request):
    """Keep what was noted for an address that no longer takes it from this person."""

    def nowhere():
        raise Http404

    return take(request, nowhere)
