"""Who needs a call this week, on a phone, and noting that the call was made."""

import uuid

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import Http404
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_POST, require_safe

from rigs.words.say import gettext_lazy
from training.deck.downloads import table
from training.people import sight

from . import listing, numbers
from .forms import CalledForm
from .reasons import REASONS, reason_called

CALLS_A_PAGE = 30
CALLS_AT_ONCE = 500  # read together for a download
HEADER = ("reason", "name", "harbor", "why", "email", "owner", "captain", gettext_lazy("demo data"))


def _reason_or_404(key):
    reason = reason_called(key)
    if reason is None:
        raise Http404(_("There is no reason called “{key}”.").format(key=key))
    return reason


@never_cache
@sight.staff
@require_safe
def calls(request):
    """Show the most urgent calls for each reason."""
    listed = listing.listed(request.user)
    context = {
        "listed": [each for each in listed if each.total],
        "total": sum(each.total for each in listed),
        "any_demo": any(call.is_demo for each in listed for call in each.calls),
        "numbers": numbers,
        # A key for every form on the page: tapping twice notes one call.
        "new_key": uuid.uuid4,
    }
    return render(request, "desk/calls.html", context)


@never_cache
@sight.staff
@require_safe
def calls_for(request, reason):
    """Show every call for one reason."""
    found = _reason_or_404(reason)
    every = listing.to_call(found, request.user)
    page = Paginator(every, CALLS_A_PAGE).get_page(request.GET.get("page"))
    shown = list(listing.calls(found, page.object_list))
    context = {
        "reason": found,
        "page": page,
        "calls": shown,
        "any_demo": any(call.is_demo for call in shown),
        "numbers": numbers,
        "new_key": uuid.uuid4,
    }
    return render(request, "desk/calls_for.html", context)


@sight.staff
@require_POST
def called(request, reason, pk):
    """Note that somebody was called."""
    found = _reason_or_404(reason)
    form = CalledForm(request.POST)
    if not form.is_valid():
        messages.error(request, _("The call was not saved. Try again."))
        return redirect("desk:calls_for", found.key)
    try:
        who = listing.note(found, pk, by=request.user, **form.cleaned_data)
    except LookupError as error:
        raise Http404(_("This person or vessel is no longer on the list.")) from error
    messages.success(
        request,
        _("Saved: {who} was called. This reason is hidden for {SILENCE_WEEKS} weeks.").format(
            who=who, SILENCE_WEEKS=numbers.SILENCE_WEEKS
        ),
    )
    return redirect("desk:calls")


def _rows(user, reasons=REASONS):
    for reason in reasons:
        found = listing.to_call(reason, user).iterator(chunk_size=CALLS_AT_ONCE)
        for call in listing.calls(reason, found):
            yield (
                reason.title,
                str(call.called),
                call.harbors,
                call.why,
                getattr(call.called, "email", ""),
                getattr(call.called, "owner", ""),
                getattr(call.called, "captain", ""),
                call.is_demo,
            )


@never_cache
@sight.staff
@require_safe
def calls_table(request, ending):
    """Download all calls for all reasons."""
    return table(ending, "calls", HEADER, _rows(request.user))


@never_cache
@sight.staff
@require_safe
def calls_for_table(request, reason, ending):
    """Download all calls for one reason."""
    found = _reason_or_404(reason)
    return table(ending, f"calls-{found.key}", HEADER, _rows(request.user, [found]))
