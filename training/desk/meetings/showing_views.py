"""What is shown of a session or a group to others: codes full-screen, poster, sign-in sheet."""

from django.http import HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

from training.people import sight
from training.people.joining_links import joining_path, picture_of_link

from . import posters, sign_in
from .live import watch
from .views import group_at_hand, session_at_hand


def _to_scan(request, session):
    """Return what leads to ``session`` from a phone."""
    here = request.build_absolute_uri(reverse("people:here"))
    return posters.ToScan(f"{here}?code={session.code}", here.partition("://")[2].rstrip("/"))


def _file(data, kind, name):
    return HttpResponse(
        data,
        content_type=kind,
        headers={"Content-Disposition": f'inline; filename="{name}"'},
    )


@never_cache
@sight.staff
@require_safe
def session_code(request, pk):
    """Fill the screen with the code of a session, for a room to see."""
    session = session_at_hand(request, pk)
    to_scan = _to_scan(request, session)
    context = {
        "title": session.title,
        "group": session.group,
        "closed": session.called_off,
        "picture": picture_of_link(to_scan.link),
        "typed": to_scan.typed,
        "code": session.code,
        "here": True,
        "back": reverse("desk:session", args=[session.pk]),
    }
    return render(request, "desk/code.html", context)


@never_cache
@sight.staff
@require_safe
def group_code(request, pk):
    """Fill the screen with the code by which people join a group."""
    group = group_at_hand(request, pk)
    sign_up = request.build_absolute_uri(reverse("people:sign_up"))
    context = {
        "title": group.name,
        "group": group,
        "closed": not group.is_open,
        "picture": picture_of_link(request.build_absolute_uri(joining_path(group))),
        "typed": sign_up.partition("://")[2].rstrip("/"),
        "code": group.code,
        "back": reverse("desk:group_live", args=[group.pk]),
    }
    return render(request, "desk/code.html", context)


@never_cache
@sight.staff
@require_safe
def poster(request, pk, ending):
    """Send a session's poster, as PDF to print or as a picture."""
    session = session_at_hand(request, pk)
    to_scan = _to_scan(request, session)
    if ending == "png":
        return _file(posters.as_png(session, to_scan), "image/png", "poster.png")
    return _file(posters.as_pdf(session, to_scan), "application/pdf", "poster.pdf")


@never_cache
@sight.staff
@require_safe
def sign_in_sheet(request, pk):
    """Send the sheet on which people sign in, as PDF."""
    return _file(sign_in.as_pdf(session_at_hand(request, pk)), "application/pdf", "sign-in.pdf")


@never_cache
@sight.staff
@require_safe
def live(request, pk):
    """Show who joins a group as they do; ``part`` asks for what changes alone."""
    group = group_at_hand(request, pk)
    context = {"watch": watch(group), "group": group}
    name = "desk/live_part.html" if "part" in request.GET else "desk/live.html"
    return render(request, name, context)
