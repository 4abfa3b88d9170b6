"""Sessions of a group, and the group while it signs up."""

import uuid

from django.contrib import messages
from django.core.paginator import Paginator
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_POST, require_safe

from training.people import sight
from training.people.joining_links import joining_path, picture_of_link
from training.people.models import Group, Session

from .forms import SessionForm
from .live import watch

SESSIONS_A_PAGE = 30


def _group(request, pk):
    """Return the group ``pk`` if the member of staff who asks looks after it."""
    return get_object_or_404(sight.rows(Group.objects.all(), request.user), pk=pk)


def _session(request, pk):
    found = sight.rows(Session.objects.select_related("group"), request.user)
    return get_object_or_404(found, pk=pk)


@never_cache
@sight.staff
@require_safe
def live(request, pk):
    """Show a group while it signs up; ``part`` asks for what changes alone."""
    group = _group(request, pk)
    if "part" in request.GET:
        return render(request, "desk/live_part.html", {"watch": watch(group), "group": group})
    link = request.build_absolute_uri(joining_path(group))
    context = {
        "group": group,
        "link": link,
        "picture": picture_of_link(link),
        "watch": watch(group),
    }
    return render(request, "desk/live.html", context)


@never_cache
@sight.staff
@require_safe
def sessions(request):
    """List the sessions to come, the next one first, and behind them those gone by."""
    found = sight.rows(Session.objects.select_related("group"), request.user)
    now = timezone.now()
    gone = request.GET.get("gone") == "yes"
    if gone:
        found = found.filter(ends__lt=now).order_by("-starts", "-pk")
    else:
        found = found.filter(ends__gte=now)
    page = Paginator(found, SESSIONS_A_PAGE).get_page(request.GET.get("page"))
    groups = sight.rows(Group.objects.filter(is_open=True), request.user)[:SESSIONS_A_PAGE]
    return render(request, "desk/sessions.html", {"page": page, "gone": gone, "groups": groups})


@never_cache
@sight.staff
def new_session(request, pk):
    """Enter a session of a group."""
    return _edit(request, _group(request, pk), None)


@never_cache
@sight.staff
def change_session(request, pk):
    """Change a session; calendars that follow it see the change."""
    session = _session(request, pk)
    return _edit(request, session.group, session)


def _edit(request, group, session):
    form = SessionForm(
        request.POST or None,
        instance=session,
        group=group,
        initial={"key": session.uid if session else uuid.uuid4()},
    )
    if request.method == "POST" and form.is_valid():
        saved = form.save()
        messages.success(request, _("“{title}” is saved.").format(title=saved.title))
        return redirect("desk:sessions")
    context = {"form": form, "group": group, "session": session}
    return render(request, "desk/session_form.html", context, status=422 if form.errors else 200)


@sight.staff
@require_POST
def call_off(request, pk):
    """Call a session off, or, if it is, have it take place after all."""
    session = _session(request, pk)
    off = request.POST.get("off") == "yes"
    if off != bool(session.called_off):
        session.called_off = timezone.now() if off else None
        session.save(update_fields=["called_off", "changed"])
    messages.success(
        request,
        _("“{title}” {value}.").format(
            title=session.title, value=_("is called off") if off else _("takes place after all")
        ),
    )
    return redirect("desk:sessions")
