"""The calendars of sessions, for whoever was given their link."""

from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404
from django.views.decorators.http import require_safe

from .. import sight
from ..models import Group, Session
from .calendar import calendar


@sight.anyone
@require_safe
def group_calendar(request, code):
    """Send a group's sessions as a calendar to whoever has its code."""
    group = Group.objects.filter(code=code).first()
    if group is None:
        raise Http404
    return _download(request, group.name, group.sessions.all(), "sessions")


@sight.anyone
@require_safe
def session_calendar(request, uid):
    """Send one session as a calendar file to whoever has its link."""
    session = get_object_or_404(Session, uid=uid)
    return _download(request, session.title, [session], "session")


def _download(request, name, found, filename):
    host = request.get_host().partition(":")[0]
    return HttpResponse(
        calendar(name, found, host),
        content_type="text/calendar; charset=utf-8",
        headers={"Content-Disposition": f'attachment; filename="{filename}.ics"'},
    )
