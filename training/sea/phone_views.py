"""What a phone asks for that opens the site without signal: the same for everybody."""

from django.http import HttpResponse, JsonResponse
from django.shortcuts import render
from django.templatetags.static import static
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.cache import cache_control
from django.views.decorators.http import condition, require_safe

from rigs.drawing.palette import SITE
from training.deck.context import language
from training.people import sight

from . import parts, worker
from .icons import ICONS

GROUND = SITE["accent"].light
"""The color of the mark, round the page while it opens."""


def _version(request):
    return f'"{parts.version()}"'


@sight.anyone
@require_safe
@cache_control(no_cache=True)
@condition(etag_func=_version)
def worker_script(request):
    """Send the script of the worker; a phone asks at each page whether there is another."""
    return HttpResponse(worker.script(), content_type="text/javascript")


@sight.anyone
@require_safe
@cache_control(public=True, max_age=3600)
def manifest(request):
    """Say how the site is called and looks when a phone installs it."""
    told = {
        "name": _("Raised Footrope training"),
        "short_name": _("Footrope"),
        "description": _("Lessons, tasks, your nets and your check sheets, on a boat too."),
        "id": reverse("home"),
        "start_url": reverse("home"),
        "scope": reverse("home"),
        "display": "standalone",
        "lang": language(request)["language"],
        "background_color": GROUND,
        "theme_color": GROUND,
        "icons": [
            {"src": static(icon.name), "sizes": f"{icon.size}x{icon.size}", "type": "image/png"}
            | ({"purpose": "maskable"} if icon.is_masked else {})
            for icon in ICONS
        ],
    }
    return JsonResponse(told, content_type="application/manifest+json")


@sight.anyone
@require_safe
def no_signal(request):
    """Show what a phone shows where the site cannot be reached: kept on it, and nobody's."""
    return render(request, "sea/no_signal.html")


@sight.anyone
@require_safe
def signed_out(request):
    """Show what a phone shows after a sign-out of which the site has not heard."""
    return render(request, "sea/signed_out.html")
