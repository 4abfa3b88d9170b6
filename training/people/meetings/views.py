"""What people open of sessions: a calendar by its link, "I am here" by the session's code."""

from django.contrib import messages
from django.contrib.auth.views import redirect_to_login
from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods, require_safe

from .. import limits, sight
from ..models import Group, Session
from .attending import arrive
from .calendar import calendar
from .forms import HereForm

CALENDARS = limits.Codes("calendar")
HERE = limits.Codes("here")


@sight.anyone
@require_safe
def group_calendar(request, code):
    """Send a group's sessions as a calendar by its code; of a closed group to its members alone."""
    if limit := CALENDARS.used_up(request):
        return limits.ask_to_wait(request, limit)
    group = Group.objects.filter(code=code).first()
    # Phones that took it in go on asking for the calendar of a group that is closed.
    if group is None:
        CALENDARS.was_wrong(request)
    if group is None or not _is_open_to(request.user, group):
        raise Http404
    return _download(request, group.name, group.sessions.all(), "sessions")


@sight.anyone
@require_safe
def session_calendar(request, uid):
    """Send one session as a calendar file by its link; of a closed group to its members alone."""
    session = get_object_or_404(Session.objects.select_related("group"), uid=uid)
    if not _is_open_to(request.user, session.group):
        raise Http404
    return _download(request, session.title, [session], "session")


def _is_open_to(user, group):
    """Return whether ``user`` may have the calendar of ``group``: closed, its own people alone."""
    if group.is_open or not user.is_authenticated:
        return group.is_open
    mine = user.memberships.filter(group=group)
    return mine.exists() or sight.rows(Group.objects.filter(pk=group.pk), user).exists()


def _download(request, name, found, filename):
    host = request.get_host().partition(":")[0]
    return HttpResponse(
        calendar(name, found, host),
        content_type="text/calendar; charset=utf-8",
        headers={"Content-Disposition": f'attachment; filename="{filename}.ics"'},
    )


@never_cache
@sight.anyone
@require_http_methods(["GET", "HEAD", "POST"])
def here(request):
    """Have a person say that they are at a session whose code they have."""
    asked = request.POST if request.method == "POST" else request.GET
    form = HereForm(asked if "code" in asked else None)
    if form.is_bound and (limit := HERE.used_up(request)):
        return limits.ask_to_wait(request, limit)
    session = form.session if form.is_valid() else None
    if form.has_wrong_code:
        HERE.was_wrong(request)
    if session and request.method == "POST" and session.takes_arrivals():
        if not request.user.is_authenticated:
            return redirect_to_login(_here(session))
        arrive(session, request.user)
        messages.success(request, _("You are at “{title}”.").format(title=session.title))
        return redirect("home")
    return render(request, "people/here.html", _standing(request.user, form, session))


def _here(session):
    """Return the path that fills in the code of ``session``."""
    return reverse("people:here", query={"code": session.code})


def _standing(user, form, session):
    """Return what the page says of ``session``, if there is one: how it stands for ``user``."""
    context = {"form": form, "session": session}
    if session is None:
        return context
    mine = user.is_authenticated and user.attendances.filter(session=session).first()
    member = user.is_authenticated and user.memberships.filter(group=session.group).exists()
    return context | {
        "mine": mine,
        "open": session.takes_arrivals(),
        "gone": session.ends < timezone.now(),
        "joins": session.group.is_open and not member,
        "back": _here(session),
        "sign_up": reverse(
            "people:sign_up", query={"code": session.group.code, "next": _here(session)}
        ),
    }
