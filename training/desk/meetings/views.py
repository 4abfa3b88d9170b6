"""Sessions of a group: planned, changed and called off, and each one's page."""

import uuid

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import Http404
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_POST, require_safe

from training.deck.forms import posted
from training.deck.numbers import whole_number
from training.people import sight
from training.people.meetings.attending import note
from training.people.models import Group, Session

from .forms import OthersForm, SessionForm
from .roll import may_come, names, roll
from .soon import with_came
from .starting import like_the_last

SESSIONS_A_PAGE = 30


def group_at_hand(request, pk):
    """Return the group ``pk`` if the member of staff who asks looks after it."""
    return get_object_or_404(sight.rows(Group.objects.all(), request.user), pk=pk)


def session_at_hand(request, pk):
    """Return the session ``pk`` with its group, if the member of staff looks after that."""
    found = sight.rows(Session.objects.select_related("group"), request.user)
    return get_object_or_404(found, pk=pk)


@never_cache
@sight.staff
@require_safe
def sessions(request):
    """List the sessions to come, the next one first, and behind them those gone by."""
    found = with_came(sight.rows(Session.objects.all(), request.user))
    now = timezone.now()
    gone = request.GET.get("gone") == "yes"
    if gone:
        found = found.filter(ends__lt=now).order_by("-starts", "-pk")
    else:
        found = found.filter(ends__gte=now)
    page = Paginator(found, SESSIONS_A_PAGE).get_page(request.GET.get("page"))
    groups = sight.rows(Group.objects.filter(is_open=True), request.user)[:SESSIONS_A_PAGE]
    context = {"page": page, "gone": gone, "groups": groups, "plan": "plan" in request.GET}
    return render(request, "desk/sessions.html", context)


@never_cache
@sight.staff
@require_safe
def session(request, pk):
    """Show a session: its code, its prints and who came; ``part`` asks for the list alone."""
    found = session_at_hand(request, pk)
    context = {"session": found, "roll": roll(found)}
    if "part" in request.GET:
        return render(request, "desk/roll.html", context)
    text = request.GET.get("name", "")
    page, named = names(found, text, request.GET.get("page"))
    context |= {
        "page": page,
        "named": named,
        "text": text,
        "others": OthersForm(initial={"others": found.others}),
        "on": found.takes_arrivals(),
        "begun": found.starts <= timezone.now(),
        "gone": found.ends < timezone.now(),
    }
    return render(request, "desk/session.html", context)


@never_cache
@sight.staff
def new_session(request, pk):
    """Enter a session of a group, filled in like its last one."""
    group = group_at_hand(request, pk)
    before = like_the_last(group, sight.rows(Session.objects.all(), request.user))
    form = SessionForm(posted(request), group=group, initial={"key": uuid.uuid4(), **before})
    return _edit(request, form, {"group": group, "before": before})


@never_cache
@sight.staff
def change_session(request, pk):
    """Change a session; calendars that follow it see the change."""
    found = session_at_hand(request, pk)
    form = SessionForm(
        posted(request), instance=found, group=found.group, initial={"key": found.uid}
    )
    return _edit(request, form, {"group": found.group, "session": found})


def _edit(request, form, context):
    if request.method == "POST" and form.is_valid():
        saved = form.save()
        messages.success(
            request, _("Saved: {title}. {when}").format(title=saved.title, when=saved.when)
        )
        return redirect("desk:session", saved.pk)
    if not form.asks_gone:
        del form.fields["gone"]
    status = 422 if form.errors else 200
    return render(request, "desk/session_form.html", {"form": form, **context}, status=status)


@sight.staff
@require_POST
def call_off(request, pk):
    """Call a session off, or, if it is, have it take place after all."""
    found = session_at_hand(request, pk)
    off = request.POST.get("off") == "yes"
    if off != bool(found.called_off):
        found.called_off = timezone.now() if off else None
        found.save(update_fields=["called_off", "changed"])
    words = _("“{title}” is called off.") if off else _("“{title}” takes place after all.")
    messages.success(request, words.format(title=found.title))
    return redirect("desk:session", found.pk)


@sight.staff
@require_POST
def mark_came(request, pk):
    """Put a person on a session's list, or take them off; the last word holds."""
    found = session_at_hand(request, pk)
    came = "came" in request.POST
    person = whole_number(request.POST.get("came" if came else "gone", ""))
    if person is None:
        raise Http404
    note(found, get_object_or_404(may_come(found), pk=person), request.user, came)
    query = {name: request.GET[name] for name in ("name", "page") if name in request.GET}
    return redirect(reverse("desk:session", args=[found.pk], query=query) + "#names")


@sight.staff
@require_POST
def count_others(request, pk):
    """Save how many came who have no account; nothing entered says that nobody counted."""
    found = session_at_hand(request, pk)
    form = OthersForm(request.POST)
    if form.is_valid():
        found.others = form.cleaned_data["others"]
        found.save(update_fields=["others"])
        messages.success(request, _("The number is saved."))
    else:
        messages.error(request, _("Enter a whole number from 0 to 500, or leave it empty."))
    return redirect("desk:session", found.pk)
